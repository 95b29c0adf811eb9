"""Headings: each kind of page has its own, in one order, so that a reader finds things where they always are."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

from build_tools.citations import MARK
from build_tools.problems import Problem

if TYPE_CHECKING:
    from build_tools.handbook import Handbook, Page

# A heading with a question mark at its end may be left out.
REQUIRED = {
    "step": (
        "Why",
        "Before you start",
        "How",
        "If you cannot find it",
        "Normal",
        "Not normal",
        "How good is the sign",
        "Easy to get wrong",
        "Write it down",
        "Sources",
    ),
    "finding": (
        "How to be sure",
        "Looks like it, but is not",
        "Points to",
        "How good",
        "On darker skin?",
        "Now",
        "Sources",
    ),
    "condition": (
        "In the circulation",
        "The pattern at the bedside",
        "Signs by strength",
        "How severe",
        "Red flags",
        "First tests",
        "Sources",
    ),
}
NUMBERED = re.compile(r"(\d+)\.\s")


def check(handbook: Handbook) -> Iterator[Problem]:
    """Yield missing, unknown and misplaced headings, and faults in how the sections are filled."""
    for page in handbook.pages.values():
        for index, heading in enumerate(page.headings):
            # An article may open with words of its own, such as the first page.
            if heading.level == 1 and not (page.kind == "article" and index == 0):
                yield Problem(
                    page.file,
                    heading.line,
                    f'the heading "{heading.words}" is of the first level',
                    "the title comes from the front matter; start the text with ##",
                )
            if MARK.search(heading.words):
                yield Problem(
                    page.file,
                    heading.line,
                    f'the heading "{heading.words}" carries a mark',
                    "put the mark on the sentence below it",
                )
        if page.kind in REQUIRED:
            yield from _order(page)
        if page.kind == "step":
            yield from _step(page)
        yield from _empty(page)


def _order(page: Page) -> Iterator[Problem]:
    wanted = REQUIRED[page.kind]
    names = [name.rstrip("?") for name in wanted]
    found = [heading for heading in page.headings if heading.level == 2]
    last = -1
    for heading in found:
        if heading.words not in names:
            yield Problem(
                page.file,
                heading.line,
                f'a {page.kind} page has no heading "{heading.words}"',
                f"use one of: {' · '.join(names)}; a heading of your own starts with ###",
            )
            continue
        place = names.index(heading.words)
        if place <= last:
            yield Problem(
                page.file,
                heading.line,
                f'the heading "{heading.words}" stands after "{names[last]}"',
                f"keep the order {' · '.join(names)}, each once",
            )
        last = max(last, place)
    present = {heading.words for heading in found}
    for index, name in enumerate(wanted):
        if not name.endswith("?") and name not in present:
            before = next((h for h in reversed(found) if h.words in names[:index]), None)
            yield Problem(
                page.file,
                before.line if before else page.body_line,
                f'the heading "{name}" is missing',
                f"add ## {name}" + (f" after ## {before.words}" if before else " at the start"),
            )


def _step(page: Page) -> Iterator[Problem]:
    start = next((heading for heading in page.headings if heading.words == "Before you start"), None)
    lines = [line for line in page.prose if line.form == "text"]
    if start and not any(line.section == start.id and line.text.startswith("**Say:**") for line in lines):
        yield Problem(
            page.file,
            start.line,
            '"Before you start" does not say what to say to the patient',
            "add a line that starts with **Say:**",
        )
    how = next((heading for heading in page.headings if heading.words == "How"), None)
    if not how:
        return
    sections = {how.id} | {each.id for each in _below(page, how.line)}
    acts = [
        (line, int(found.group(1)))
        for line in lines
        if line.section in sections and (found := NUMBERED.match(line.text))
    ]
    if not acts:
        yield Problem(page.file, how.line, '"How" has no numbered acts', "write one act a number: 1. 2. 3.")
    expected = 1
    for line, number in acts:
        if number not in (expected, 1):
            yield Problem(
                page.file,
                line.number,
                f"the acts are numbered {number} where {expected} was expected",
                f"number them on, also past a caution: {expected}.",
            )
        expected = number + 1


def _below(page: Page, line: int) -> list:
    """Return the smaller headings that belong to the one on a line."""
    found = []
    for heading in page.headings:
        if heading.line > line:
            if heading.level <= 2:
                break
            found.append(heading)
    return found


def _empty(page: Page) -> Iterator[Problem]:
    for heading in page.headings:
        if heading.level == 2 and heading.words == "Sources":
            written = next(
                (line for line in page.prose if line.section == heading.id and line.form not in ("blank", "heading")),
                None,
            )
            if written:
                yield Problem(
                    page.file,
                    written.number,
                    'something is written under "Sources"',
                    "leave it empty: the list is made from the marks of the page",
                )
