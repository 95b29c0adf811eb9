"""What a writer waits for: this build beside the plain theme on the same text, and a build of a thousand pages."""

from __future__ import annotations

import subprocess
import sys
import time
from pathlib import Path

from build_tools import handbook
from build_tools.environment import ROOT
from build_tools.pages import TOKEN, Draft
from build_tools.placing import files_of
from tests.benchmarks.table import Row
from tests.project_files import bare_copy

ENGINES = Path("build_tools/engines/node_modules")
SOURCE = "content/conditions/aortic-stenosis.md"
PAGES = 1000
PLAIN = """site_name: Plain
docs_dir: docs
site_dir: site
use_directory_urls: false
theme: {name: material, font: false}
markdown_extensions: [admonition, sane_lists, tables, toc, fenced_code]
validation: {nav: {omitted_files: ignore}, links: {not_found: ignore, anchors: ignore, unrecognized_links: ignore}}
"""


def rows(folder: Path) -> list[Row]:
    """Give the rows of the table; takes minutes."""
    _tell("Building with the plain theme and in full ...")
    plain = min(_plain_build(folder / "plain") for _ in range(2))
    ours = min(_seconds(ROOT, folder / "built") for _ in range(2))
    half = _synthetic(folder / "half", PAGES // 2)
    whole = _synthetic(folder / "whole", PAGES)
    _tell(f"Building {PAGES // 2} pages, then {PAGES} ...")
    seconds = [_seconds(half, folder / "half-site"), _seconds(whole, folder / "whole-site")]
    growth = seconds[1] / seconds[0]
    grown, worst = _most_grown(folder / "half-site", folder / "whole-site")
    return [
        Row("build, plain theme, same text", plain, "s"),
        Row("build in full, every check", ours, "s"),
        Row("build: times the plain theme", ours / plain, "", "1.50", ours / plain <= 1.5),
        Row(f"build of {PAGES} pages", seconds[1], "s"),
        # Twice the pages; a tenth more for the noise of the machine.
        Row(f"time, from {PAGES // 2} pages to {PAGES}", growth, "times", "2.20", growth <= 2.2),
        Row(f"most grown file: {worst}", grown, "times", "2.20", grown <= 2.2),
    ]


def _tell(line: str) -> None:
    print(line, file=sys.stderr, flush=True)


def _plain_build(folder: Path) -> float:
    """Build the handbook's Markdown, as our build hands it to the renderer, with the theme alone."""
    book = handbook.load(ROOT, unread_ok=True)
    for page in book.pages.values():
        target = folder / "docs" / f"{page.id}.md"
        target.parent.mkdir(parents=True, exist_ok=True)
        draft = Draft(book, page)
        # With the tables, boxes and calculators in the text, as HTML, that our build puts in after rendering.
        text = TOKEN.sub(lambda found, draft=draft: draft._piece(found.group(1)), draft.prepared())
        target.write_text(text, encoding="utf-8")
    (folder / "mkdocs.yml").write_text(PLAIN, encoding="utf-8")
    began = time.monotonic()
    subprocess.run([sys.executable, "-m", "mkdocs", "build", "--quiet"], cwd=folder, check=True, capture_output=True)
    return time.monotonic() - began


def _seconds(project: Path, site: Path) -> float:
    # A copy has no environment of its own, so it is built in this one.
    code = "import sys; from build_tools import cli; sys.exit(cli.main())"
    command = [sys.executable, "-c", code, "build", "--fresh", "--unread-ok", "--site", str(site)]
    began = time.monotonic()
    done = subprocess.run(command, cwd=project, capture_output=True, encoding="utf-8")
    if done.returncode:
        raise RuntimeError(done.stdout + done.stderr)
    return time.monotonic() - began


def _synthetic(folder: Path, pages: int) -> Path:
    """Copy the project and fill it up with invented conditions, each under a name of its own."""
    bare_copy(folder)
    (folder / ENGINES).symlink_to(ROOT / ENGINES, target_is_directory=True)
    # What a first build packs once is no part of the question.
    (folder / ".build").mkdir()
    (folder / ".build" / "packed").symlink_to(ROOT / ".build" / "packed", target_is_directory=True)
    text = (folder / SOURCE).read_text(encoding="utf-8")
    standing = len(list((folder / "content").rglob("*.md")))
    for number in range(pages - standing):
        words = f"Invented condition {number}"
        name = folder / SOURCE.replace("aortic-stenosis", f"invented-{number}")
        name.write_text(text.replace("title: Aortic stenosis", f"title: {words}", 1), encoding="utf-8")
    return folder


def _most_grown(small: Path, large: Path) -> tuple[float, str]:
    shared = sorted(name for name in files_of(small) & files_of(large) if name.endswith((".html", ".json")))
    return max(((large / name).stat().st_size / (small / name).stat().st_size, name) for name in shared)
