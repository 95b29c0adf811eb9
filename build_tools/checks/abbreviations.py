"""Abbreviations: spelt out where a page first uses them, for whoever reads that page alone."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from build_tools.citations import MARK, VALUE
from build_tools.problems import Problem
from build_tools.prose import CODE, LINK, texts

if TYPE_CHECKING:
    from build_tools.handbook import Handbook, Page

LISTS = Path(__file__).with_name("abbreviations.toml")
# A word with two capitals or more: ECG, WIfI, NEWS2. Units such as mmHg begin small.
ABBREVIATION = re.compile(r"(?<![\w./-])[A-Z][A-Za-z]*[A-Z][A-Za-z]*\d*(?!\w)")
# Texts that lists and tables of other pages show by themselves: they cannot lean on what stands before them.
ALONE = ("short", "sees", "now")
# Texts of the front matter that open a page; the others come after what the body says.
OPENING = ("summary", "position")


@cache
def known() -> tuple[dict[str, tuple[str, ...]], dict[str, str]]:
    """Return abbreviation -> the words it may stand for, and exempt abbreviation -> reason."""
    data = tomllib.loads(LISTS.read_text(encoding="utf-8"))
    exempt = {short: row["why"] for row in data["exempt"] for short in row["shorts"]}
    return {row["short"]: tuple(row["long"]) for row in data["abbreviations"]}, exempt


def check(handbook: Handbook) -> Iterator[Problem]:
    """Yield abbreviations that a page does not spell out where it first uses them, and those nobody has listed."""
    for page in handbook.pages.values():
        for passage in _passages(page):
            yield from _problems(page.file, passage)
    for name, row in handbook.red_flags.items():
        place = handbook.rows[("red_flags", name)]
        yield from _problems(place.file, [(place.line(key), str(row.get(key, ""))) for key in ("what", "why", "act")])


def _passages(page: Page) -> Iterator[list[tuple[int, str]]]:
    """Yield what is read in one go: the page from top to bottom, and each text that is also shown alone."""
    meta = list(texts(page.meta))
    later: list[tuple[int, str]] = []
    whole: list[tuple[int, str]] = []
    for path, text in meta:
        if path[0] in ALONE:
            yield [(page.line(*path), text)]
        (whole if path[0] in OPENING else later).append((page.line(*path), text))
    later += [
        (page.line("points_to", index, key), str(entry[key]))
        for index, entry in enumerate(page.listed("points_to"))
        if isinstance(entry, dict)
        for key in ("target", "population", "note")
        if key in entry
    ]
    whole += [(line.number, line.text) for line in page.prose if line.form in ("text", "title", "heading")]
    yield whole + later


def _problems(file: str, passage: list[tuple[int, str]]) -> Iterator[Problem]:
    spelt, exempt = known()
    read = ""
    told: set[str] = set()
    for line, text in passage:
        plain = _plain(text)
        read += " " + plain.casefold()
        for word in ABBREVIATION.findall(plain):
            short = word if word in exempt else word.removesuffix("s")
            if short in told or short in exempt:
                continue
            told.add(short)
            if short not in spelt:
                yield Problem(
                    file,
                    line,
                    f'the abbreviation "{short}" is in no list',
                    f"write it out, or list it in build_tools/checks/{LISTS.name}",
                )
            elif not any(words.casefold() in read for words in spelt[short]):
                yield Problem(
                    file,
                    line,
                    f'"{short}" is not spelt out where it is first used',
                    f"write: {spelt[short][0]} ({short})",
                )


def _plain(text: Any) -> str:
    """Return a text as it is read: without marks, values, code and addresses."""
    return LINK.sub(r"\2", VALUE.sub(" ", MARK.sub(" ", CODE.sub(" ", str(text)))))
