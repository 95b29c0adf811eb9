"""Building: a fault stops it and leaves the standing site as it was; nothing changed means nothing done."""

from __future__ import annotations

import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from build_tools import building
from build_tools.building import hashes_of
from build_tools.environment import ROOT
from tests.project_files import bare_copy

# Takes a file name, the text to replace and the new one.
Alter = Callable[[str, str, str], None]


def build(project: Path, *options: str) -> subprocess.CompletedProcess[str]:
    """Run `build` with the code, content and calculators of a copy, in the environment of the original.

    Figures may wait for their second read: what is altered here nobody reads.
    """
    command = [sys.executable, "-c", "import sys; from build_tools import cli; sys.exit(cli.main())"]
    return subprocess.run(
        [*command, "build", "--unread-ok", *options], cwd=project, capture_output=True, encoding="utf-8"
    )


@pytest.fixture(scope="module")
def project(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of this project with its site built."""
    copy = bare_copy(tmp_path_factory.mktemp("building") / "copy")
    engines = Path("build_tools/engines/node_modules")
    (copy / engines).symlink_to(ROOT / engines, target_is_directory=True)
    done = build(copy)
    assert done.returncode == 0, done.stdout + done.stderr
    return copy


@pytest.fixture
def altered(project: Path) -> Iterator[Alter]:
    """Alters a file of the project for one test: altered(name, old, new)."""
    before: dict[Path, str] = {}

    def alter(name: str, old: str, new: str) -> None:
        path = project / name
        text = path.read_text(encoding="utf-8")
        assert old in text, f"{name} does not hold {old!r} any more"
        before.setdefault(path, text)
        path.write_text(text.replace(old, new, 1), encoding="utf-8")

    yield alter
    for path, text in before.items():
        path.write_text(text, encoding="utf-8")


def test_a_build_says_what_it_made_and_how_to_look_at_it(project: Path) -> None:
    done = build(project, "--fresh")
    assert done.returncode == 0, done.stdout + done.stderr
    pages = len([path for path in (project / "site").rglob("*.html") if path.name != "404.html"])
    assert f"site/ holds {pages} pages (" in done.stdout
    assert "checks of calculators passed" in done.stdout
    assert "build_tools serve" in done.stdout


def test_a_second_build_with_nothing_changed_is_quick_and_the_same_to_the_byte(project: Path) -> None:
    before = hashes_of(project / "site")
    began = time.monotonic()
    done = build(project)
    assert time.monotonic() - began < 5
    assert "Nothing has changed since the last build." in done.stdout
    assert "0 files written, 0 removed" in done.stdout
    assert hashes_of(project / "site") == before


@pytest.mark.slow
def test_a_changed_page_is_rendered_and_taken_back_the_site_is_as_before(project: Path, altered: Alter) -> None:
    before = hashes_of(project / "site")
    altered("content/index.md", "\n---\n", "\n---\nA sentence that was not there.\n")
    assert build(project).returncode == 0
    changed = hashes_of(project / "site")
    assert "A sentence that was not there." in (project / "site" / "index.html").read_text(encoding="utf-8")
    altered("content/index.md", "A sentence that was not there.\n", "")
    assert build(project).returncode == 0
    assert hashes_of(project / "site") == before != changed


class TestAFaultLeavesTheStandingSiteAsItWas:
    @pytest.fixture(autouse=True)
    def standing(self, project: Path) -> Iterator[None]:
        site = project / "site"
        before = {path: (path.stat().st_mtime_ns, path.read_bytes()) for path in site.rglob("*") if path.is_file()}
        yield
        after = {path: (path.stat().st_mtime_ns, path.read_bytes()) for path in site.rglob("*") if path.is_file()}
        assert after == before

    def test_in_a_page(self, project: Path, altered: Alter) -> None:
        altered("content/index.md", "\n---\n", "\n---\nSee [the step](examination/not-there.md).\n")
        done = build(project)
        assert done.returncode == 1
        assert "content/index.md:" in done.stderr
        assert "not-there" in done.stderr
        assert "Nothing was placed: site/ is as it was." in done.stderr.replace("\\", "/")

    def test_in_what_a_calculator_is_proved_with(self, project: Path, altered: Alter) -> None:
        altered("calculators/mean_arterial_pressure/formula.py", "pulse_pressure / 3", "pulse_pressure / 2.9")
        done = build(project)
        assert done.returncode == 1
        assert "calculators/mean_arterial_pressure/sheet.toml:" in done.stderr
        assert "Nothing was placed" in done.stderr

    def test_in_the_code_that_renders(self, project: Path, altered: Alter) -> None:
        altered("build_tools/building.py", "    from mkdocs.config import load_config\n", "    raise MemoryError\n")
        assert build(project, "--fresh").returncode == 1

    @pytest.mark.slow
    def test_a_break_while_rendering_does_not_pass_for_finished_next_time(self, project: Path, altered: Alter) -> None:
        altered("build_tools/building.py", "        config.plugins.on_shutdown()\n", "        raise MemoryError\n")
        assert build(project, "--fresh").returncode == 1
        assert not (project / ".build" / "built.json").exists()


@pytest.mark.parametrize("folder", ["..", ".", "content"])
def test_a_folder_that_holds_other_things_is_never_emptied(project: Path, folder: str) -> None:
    done = build(project, "--site", folder)
    assert done.returncode == 1
    assert "holds other things" in done.stderr
    assert (project / "content" / "index.md").exists()


@pytest.mark.slow
def test_a_copy_that_breaks_off_is_told_with_its_cause(project: Path) -> None:
    before = (project / "README.md").read_bytes()
    done = build(project, "--site", "README.md")
    assert done.returncode == 1
    assert "broke off" in done.stderr
    assert "Traceback" not in done.stderr
    assert (project / "README.md").read_bytes() == before


class TestWhatCountsAsAChange:
    """Every file that can reach the site counts, and nothing else does."""

    @pytest.fixture
    def tree(self, tmp_path: Path) -> Path:
        for name in (
            "content/index.md",
            "calculators/engine.py",
            "build_tools/cli.py",
            "build_tools/locks/build.txt",
            "build_tools/engines/node_modules/pyodide/pyodide.asm.wasm",
            "mkdocs.yml",
            "pyproject.toml",
            "CHANGELOG.md",
            ".venv/installed.json",
            "site/index.html",
            "tests/test_it.py",
            ".git/HEAD",
            ".build/site/index.html",
            "calculators/__pycache__/engine.pyc",
        ):
            (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
            (tmp_path / name).write_text("as it was", encoding="utf-8")
        return tmp_path

    @pytest.mark.parametrize(
        ("name", "counts"),
        [
            ("content/index.md", True),
            ("calculators/engine.py", True),
            ("build_tools/cli.py", True),
            ("build_tools/locks/build.txt", True),
            ("build_tools/engines/node_modules/pyodide/pyodide.asm.wasm", True),
            ("mkdocs.yml", True),
            ("pyproject.toml", True),
            (".venv/installed.json", True),
            ("content/new.md", True),
            ("site/index.html", False),
            ("tests/test_it.py", False),
            (".git/HEAD", False),
            (".build/site/index.html", False),
            ("calculators/__pycache__/engine.pyc", False),
        ],
    )
    def test_a_file(self, tree: Path, name: str, counts: bool) -> None:
        before = building.hash_of_inputs(tree)
        assert building.hash_of_inputs(tree) == before
        (tree / name).write_text("changed", encoding="utf-8")
        assert (building.hash_of_inputs(tree) != before) is counts

    def test_a_file_that_moves(self, tree: Path) -> None:
        before = building.hash_of_inputs(tree)
        (tree / "content" / "index.md").rename(tree / "content" / "other.md")
        assert building.hash_of_inputs(tree) != before

    def test_the_date_that_stands_in_the_pages(self, tree: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        before = building.hash_of_inputs(tree)
        monkeypatch.setenv("SOURCE_DATE_EPOCH", "1")
        assert building.hash_of_inputs(tree) != before
