"""Numbers: a line or a front-matter text that holds one says, on that same line, where it comes from."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from build_tools.citations import MARK, VALUE, marks_in
from build_tools.problems import Problem
from build_tools.prose import CODE, LINK, texts

if TYPE_CHECKING:
    from build_tools.handbook import Handbook

EXEMPTIONS = Path(__file__).parent / "number_exemptions.toml"
LIST_NUMBER = re.compile(r"^\s*\d+\.\s")
# Numbers with their sign, decimals and what joins two of them: 0.9, −5, 120/80, 12–20.
NUMBER = re.compile(r"\d+(?:[.,]\d+)*(?:[/–]\d+(?:[.,]\d+)*)*")


@cache
def _exempt() -> re.Pattern[str]:
    rows = tomllib.loads(EXEMPTIONS.read_text(encoding="utf-8"))["exemptions"]
    return re.compile("|".join(f"(?:{row['pattern']})" for row in rows))


def clinical(text: str) -> str:
    """Return a text with everything blanked that holds digits but no clinical number."""
    text = VALUE.sub(" ", MARK.sub(" ", CODE.sub(" ", text)))
    text = LINK.sub(lambda found: f" {found.group(2)} ", text)
    return _exempt().sub(" ", LIST_NUMBER.sub(" ", text))


def numbers_in(text: str) -> list[str]:
    """Return the clinical numbers of a text in order, as written."""
    return NUMBER.findall(clinical(text))


def check(handbook: Handbook) -> Iterator[Problem]:
    """Yield every line or caption with a clinical number and no mark."""
    for page in handbook.pages.values():
        for path, text in texts(page.meta):
            yield from _line(page.file, page.line(*path), text)
        for line in page.prose:
            if line.form == "text":
                yield from _line(page.file, line.number, line.text)
    for name, row in handbook.captions.items():
        place = handbook.rows[("captions", name)]
        yield from _line(place.file, place.line("text"), str(row.get("text", "")))


def _line(file: str, line: int, text: str) -> Iterator[Problem]:
    found = numbers_in(text)
    if found and not any(True for _ in marks_in(text)):
        yield Problem(
            file,
            line,
            f"the number {found[0]} has no source on its line",
            "add [@key, place], [common practice] or [from memory]; quote a normal value with {{value id}}",
        )
