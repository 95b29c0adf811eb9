"""The whole small calculator that DEVELOPERS.md shows, taken from there as a reader would copy it."""

from __future__ import annotations

import re
from pathlib import Path

from build_tools.environment import ROOT

CALCULATOR = "pack_years"
# A file's name in its own line, then its text in a fence; the page's block stands in a longer fence.
FILE = re.compile(r"(?ms)^`(calculators/[\w/.]+)`\n\n```\w+\n(.*?)^```$")
BLOCK = re.compile(r"(?ms)^````markdown\n(.*?)^````$")


def documented() -> tuple[dict[str, str], str]:
    """The files of the calculator, name -> text, and its block for a page."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    files = {f"calculators/{CALCULATOR}/__init__.py": "", **dict(FILE.findall(text))}
    assert set(files) == {f"calculators/{CALCULATOR}/{name}" for name in ("__init__.py", "formula.py", "sheet.toml")}
    blocks = BLOCK.findall(text)
    assert len(blocks) == 1, "DEVELOPERS.md shows one block for a page"
    return files, blocks[0]


def add_to(project: Path, page: str) -> None:
    """Do what DEVELOPERS.md says in a copy of the project: write the files, name the calculator on a page, show it."""
    files, block = documented()
    for name, text in files.items():
        path = project / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
    path = project / "content" / page
    text = path.read_text(encoding="utf-8")
    assert "\ncalculators: [" in text
    path.write_text(
        text.replace("\ncalculators: [", f"\ncalculators: [{CALCULATOR}, ", 1) + "\n" + block, encoding="utf-8"
    )
