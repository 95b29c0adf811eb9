"""Cautions: three grades, and those that tell someone to stop or to get help rest on a source that was seen."""

from __future__ import annotations

import difflib
from collections.abc import Iterator
from typing import TYPE_CHECKING

from build_tools.citations import LOCAL_SIGN_OFF, marks_in
from build_tools.problems import Problem
from calculators.wording import FIRST, GRADES

if TYPE_CHECKING:
    from build_tools.handbook import Handbook

STRICT = tuple(FIRST)
# Pages that explain the handbook itself show what a caution looks like; they tell nobody to do anything.
EXPLAINING = "about/"


def rests(text: str) -> bool:
    """Whether a sentence names a source that was seen, or is marked for local sign-off."""
    return any(mark.seen or LOCAL_SIGN_OFF in mark.states for mark in marks_in(text))


def check(handbook: Handbook) -> Iterator[Problem]:
    """Yield unknown grades, and Stop and Get help lines that rest on nothing seen; red flags likewise."""
    for page in handbook.pages.values():
        for line in page.prose:
            if line.form == "title" and line.admonition not in GRADES:
                close = difflib.get_close_matches(line.admonition, GRADES, 1)
                yield Problem(
                    page.file,
                    line.number,
                    f'a caution has no grade "{line.admonition}"',
                    f"write !!! {close[0] if close else ', '.join(GRADES)}",
                )
            strict = line.admonition in STRICT and not page.id.startswith(EXPLAINING)
            if line.form == "text" and strict and not rests(line.text):
                yield Problem(
                    page.file,
                    line.number,
                    f"this line under {GRADES[line.admonition]} names no source that was seen",
                    "add [@key, place] or [local sign-off] to the line",
                )
    for name, row in handbook.red_flags.items():
        place = handbook.rows[("red_flags", name)]
        if row.get("checked") in ("common-practice", "memory") and not rests(str(row.get("act", ""))):
            yield Problem(
                place.file,
                place.line("act"),
                f'the red flag "{name}" rests on no source that was seen',
                "add [@key, place] or [local sign-off] to act",
            )
