"""Reading TOML, YAML and references: data, lines and digits as they were written."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from build_tools.handbook import Handbook
from build_tools.loading import Unreadable, Written, line_of, load_front_matter, load_toml, load_yaml
from build_tools.toml_lines import toml_lines

TOML = '''title = "a # no comment" # one
a.b = 1
[[inputs]]
id = "first"
fields = [
  "x", # c ]
  { q = """
] }
""", z = 'it''s' },
]
[[inputs]]
"id" = "second"
[inputs.more]
k = 1.40
[[inputs.bands]]
from = { low = 1, high = [2,
  3] }
[table]
last = 3'''.replace("it''s", "it")


def test_toml_keys_know_their_lines(tmp_path: Path) -> None:
    """Strings, comments, nested arrays and tables do not mislead the line count."""
    (tmp_path / "a.toml").write_text(TOML, encoding="utf-8")
    located = load_toml(tmp_path / "a.toml")
    expected = {
        (): 1,
        ("a", "b"): 2,
        ("inputs", 0, "id"): 4,
        ("inputs", 0, "fields", 0): 6,
        ("inputs", 0, "fields", 1, "q"): 7,
        ("inputs", 0, "fields", 1, "z"): 9,
        ("inputs", 1, "id"): 12,
        ("inputs", 1, "more", "k"): 14,
        ("inputs", 1, "bands", 0, "from", "high", 1): 17,
        ("table", "last"): 19,
    }
    assert {path: located.lines[path] for path in expected} == expected
    assert line_of(located.lines, ("inputs", 1, "missing", "deeper")) == 11


def test_every_toml_path_has_a_line() -> None:
    """On the handbook's own data the scan finds exactly the paths that the parser finds."""
    import tomllib

    def paths(node: object, here: tuple[object, ...] = ()) -> set[tuple[object, ...]]:
        inner = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
        return {here}.union(*(paths(value, (*here, key)) for key, value in inner))

    root = Path(__file__).parents[2]
    files = [*sorted(root.glob("content/**/*.toml")), *sorted(root.glob("calculators/*/sheet.toml"))]
    assert files
    for file in files:
        text = file.read_text(encoding="utf-8")
        assert set(toml_lines(text)) == paths(tomllib.loads(text)), file.name


def test_fractions_keep_their_digits() -> None:
    """1.40 is shown as it was written, and still counts as a number."""
    data = load_yaml("a: 1.40\nb: 2\nc: 2020-01-31\n").data
    assert isinstance(data["a"], Written) and data["a"].text == "1.40" and data["a"] == 1.4
    assert data["b"] == 2 and data["c"] == "2020-01-31"


def test_front_matter_counts_from_the_top_of_the_file(tmp_path: Path) -> None:
    """Keys and body are numbered as an editor numbers them, with either kind of line end."""
    for ends in ("\n", "\r\n"):
        (tmp_path / "a.md").write_bytes(
            b"---\nkind: step\nlist:\n  - a\n  - b: 1\n---\nBody\n".replace(b"\n", ends.encode())
        )
        located, body, line = load_front_matter(tmp_path / "a.md")
        assert (located.lines[("kind",)], located.lines[("list", 1, "b")], line) == (2, 5, 7)
        assert body == "Body\n"


@pytest.mark.parametrize(
    ("content", "line", "words"),
    [
        (b"\xff", 0, "not UTF-8"),
        (b"\xef\xbb\xbfa = 1", 1, "byte-order mark"),
        (b"a = 1\nb = ", 2, "not TOML"),
        (b"a = 1\na = 2\n", 2, "not TOML"),
    ],
)
def test_unreadable_files_say_where(content: bytes, line: int, words: str, tmp_path: Path) -> None:
    """A file that cannot be read tells its line, its cause and what to do."""
    (tmp_path / "a.toml").write_bytes(content)
    with pytest.raises(Unreadable) as caught:
        load_toml(tmp_path / "a.toml")
    assert (caught.value.line, words in caught.value.message) == (line, True)
    assert caught.value.mend


def test_navigation_is_read_past_tags_that_only_mkdocs_knows(load_tiny: Callable[..., Handbook]) -> None:
    """The rest of mkdocs.yml may hold anything."""
    book = load_tiny(("mkdocs.yml", "site_name: Tiny", "site_name: !ENV [NAME, Tiny]"))
    assert list(book.navigation) == ["index", "examination/tiny-step"]
    assert book.problems == []
