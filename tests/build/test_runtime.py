"""What calculates in the browser: the same bytes from the same sources, under names that follow the content."""

from __future__ import annotations

import base64
import gzip
import io
import json
import re
import zipfile
from pathlib import Path

import pytest

from build_tools import embeds, handbook, javascript, library, portable_code, runtime
from build_tools.compressing import packed_by_zstd
from build_tools.sheets_for_door import sheet_for_door, short_reference
from tests.whole import BOOK


@pytest.fixture(scope="module")
def book() -> handbook.Handbook:
    return BOOK


def small_site(folder: Path) -> Path:
    (folder / "deep").mkdir(parents=True)
    (folder / "plain.html").write_text(f"<html><head>{runtime.TOP}</head><body></body></html>", encoding="utf-8")
    (folder / "deep" / "sum.html").write_text(
        f"<html><head>{runtime.TOP}</head>"
        '<body><section data-calculator="mean_arterial_pressure"></section></body></html>',
        encoding="utf-8",
    )
    return folder


def contents(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_two_bundles_are_the_same_to_the_byte(book: handbook.Handbook, tmp_path: Path) -> None:
    """No date and no order of files leaks in."""
    one, two = small_site(tmp_path / "one"), small_site(tmp_path / "two")
    runtime.bundle(book, one)
    runtime.bundle(book, two)
    assert contents(one) == contents(two)


def test_only_pages_that_calculate_name_the_engine(book: handbook.Handbook, tmp_path: Path) -> None:
    """Every name in the page is a file that lies there, reached from the page's own folder."""
    site = small_site(tmp_path / "site")
    runtime.bundle(book, site)
    assert "engine" not in (site / "plain.html").read_text(encoding="utf-8")
    page = (site / "deep" / "sum.html").read_text(encoding="utf-8")
    for address in re.findall(r'(?:src|href)="([^"]+)"', page):
        assert address.startswith("../engine/")
        assert (site / "deep" / address).resolve().is_file()
    block = re.search(r'id="engine-files">(.*?)</script>', page)
    assert block
    for engine in json.loads(block.group(1))["engines"]:
        for file in (*engine["engine"].values(), *engine["packs"]):
            assert (site / "engine" / file["name"]).stat().st_size == file["bytes"]
        assert (site / "engine" / engine["script"]).is_file()


def test_pack_holds_formula_and_sheet_and_no_checks(book: handbook.Handbook, tmp_path: Path) -> None:
    """What only a build reads stays at home."""
    site = small_site(tmp_path / "site")
    runtime.bundle(book, site)
    [path] = site.glob("engine/mean_arterial_pressure.*.bin")
    pack = json.loads(gzip.decompress(path.read_bytes()))
    assert "calculators/mean_arterial_pressure/formula.py" in [name for name, _ in pack["files"]]
    [sheet] = pack["sheets"]
    assert sheet["id"] == "mean_arterial_pressure"
    assert "checks" not in sheet


def test_every_source_of_a_sheet_has_a_short_reference(book: handbook.Handbook) -> None:
    """The copied text names people and years, not keys."""
    for name in book.sheets:
        for key, words in sheet_for_door(book, name)["citations"].items():
            assert key not in words
            assert not words.startswith("Authors not"), words


def test_short_reference_counts_its_authors(book: handbook.Handbook) -> None:
    """One, two, and many."""
    one, two, many = (
        [{"family": "Bos"}], [{"family": "Bos"}, {"family": "Verrij"}],
        [{"family": "Bos"}, {"family": "Verrij"}, {"family": "Vincent"}],
    )
    told = []
    for people in (one, two, many, []):
        entry = next(iter(book.references.entries.values()))
        reference = type(entry)("key", "article", {"year": "2007", "title": "A title"}, {"author": people}, 1)
        told.append(short_reference(reference))
    assert told == ["Bos 2007", "Bos and Verrij 2007", "Bos et al. 2007", "A title 2007"]


@pytest.mark.parametrize(("kind", "fields", "words"), [
    ("article", {"journal": "Trials"}, "Trials 2007"),
    ("misc", {"howpublished": "A ministry, report 4"}, "A ministry 2007"),
    ("book", {"publisher": "A press"}, "A title 2007"),
])
def test_what_nobody_signs_goes_by_where_it_stands(
    book: handbook.Handbook, kind: str, fields: dict[str, str], words: str
) -> None:
    """A title can be a sentence long; a result has no room for it."""
    entry = next(iter(book.references.entries.values()))
    reference = type(entry)("key", kind, {"year": "2007", "title": "A title", **fields}, {}, 1)
    assert short_reference(reference) == words


def test_missing_engine_is_said_with_the_way_out(
    book: handbook.Handbook, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Before anything is written."""
    monkeypatch.setattr(runtime, "PYODIDE", tmp_path / "pyodide")
    with pytest.raises(FileNotFoundError, match="python3 -m build_tools build"):
        runtime.bundle(book, small_site(tmp_path / "site"))


def test_engine_that_changed_is_refused_with_its_name() -> None:
    """A new version of an engine is adapted by a person, never half-way by itself."""
    with pytest.raises(ValueError, match="MicroPython's files no longer contain"):
        javascript.micropython("export default somethingElse;")
    with pytest.raises(ValueError, match="Pyodide"):
        javascript.pyodide("", "import.meta.url export default _createPyodideModule;", "{}")


def test_modules_are_joined_each_once_and_before_its_user(tmp_path: Path) -> None:
    """Imports and exports fall away, and an import in another form is refused."""
    sources = {
        "base": "export const base = 1;\n",
        "left": 'import { base } from "./base.js";\nexport function left() { return base; }\n',
        "page": '/** Words. */\nimport { base } from "./base.js";\nimport { left } from "./left.js";\nleft(base);\n',
        "odd": 'import base from "./base.js";\n',
    }
    for name, text in sources.items():
        (tmp_path / f"{name}.js").write_text(text, encoding="utf-8")
    joined = javascript.join(tmp_path / "page.js")
    assert joined.count("const base = 1;") == 1
    assert joined.index("const base") < joined.index("function left") < joined.index("left(base)")
    assert "import" not in joined and "export" not in joined and "Words" not in joined
    with pytest.raises(ValueError, match=re.escape("odd.js")):
        javascript.join(tmp_path / "odd.js")


@pytest.mark.parametrize("name", sorted(BOOK.sheets))
def test_calculator_html_has_a_field_for_every_input_and_a_card_for_every_result(
    name: str, book: handbook.Handbook
) -> None:
    """Each with a label of its own, and no id twice."""
    from calculators import form

    text = embeds.calculator_html(book, name)
    ids = re.findall(r'\bid="([^"]+)"', text)
    assert len(ids) == len(set(ids))
    for field in form.fields(book.sheets[name].data):
        box = re.search(rf'data-field="{re.escape(field["field"])}".*', text)
        assert box
        named = f'name="{field["field"]}"'
        if control := re.search(rf'<(?:input type="text"[^>]*|textarea|select) id="([^"]+)" {named}', box.group()):
            assert f'<label for="{control.group(1)}">' in box.group()
        else:
            assert "<legend>" in box.group() and re.search(rf'<input type="radio" [^>]*{named}', box.group())
    for output in book.sheets[name].data["outputs"]:
        assert f'data-output="{output["id"]}"' in text
    assert "style=" not in text and "onclick" not in text


@pytest.mark.slow
def test_library_is_compiled_to_the_same_bytes_each_time() -> None:
    """Bytecode alone, for the modules that are loaded, half of what the engine's package carries."""
    one = library.compiled(runtime.PYODIDE)
    assert one == library.compiled(runtime.PYODIDE)
    with zipfile.ZipFile(io.BytesIO(one)) as archive:
        names = archive.namelist()
    assert all(name.endswith(".pyc") for name in names)
    assert {"json/decoder.pyc", "traceback.pyc"} <= set(names)
    assert len(packed_by_zstd(one)) < 0.4 * (runtime.PYODIDE / "python_stdlib.zip").stat().st_size


def test_compiler_and_first_engine_are_of_one_version() -> None:
    """Compiled modules load in the version of the engine they are made for."""
    package = json.loads((runtime.MICROPYTHON / "package.json").read_text(encoding="utf-8"))
    assert portable_code.VERSION.split(".post")[0] == package["version"]


def test_compiled_pack_holds_the_same_modules_and_no_source(book: handbook.Handbook, tmp_path: Path) -> None:
    """The first engine need not compile on the reader's phone."""
    site = small_site(tmp_path / "site")
    runtime.bundle(book, site)
    for name in ("core", "mean_arterial_pressure"):
        [sources], [modules] = site.glob(f"engine/{name}.*.bin"), site.glob(f"engine/{name}-compiled.*.bin")
        plain, made = (json.loads(gzip.decompress(path.read_bytes())) for path in (sources, modules))
        assert made["sheets"] == plain["sheets"]
        assert [path for path, _ in made["files"]] == [path.replace(".py", ".mpy") for path, _ in plain["files"]]
        assert all(base64.b64decode(module)[:1] == b"M" for _, module in made["files"])


def test_a_module_that_does_not_compile_is_named() -> None:
    with pytest.raises(RuntimeError, match=r"calculators/broken\.py"):
        portable_code.compiled("calculators/broken.py", "def (")
