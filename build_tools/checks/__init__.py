"""The checks of the content: each takes the loaded handbook and yields problems. All of them always run,
so that an author sees the whole list at once."""

from __future__ import annotations

from typing import TYPE_CHECKING

from build_tools.checks import (
    abbreviations,
    cautions,
    citing,
    crossings,
    files,
    headings,
    links,
    navigation,
    numbers,
    reading,
    schema,
    sounds,
    strength,
)
from build_tools.problems import Problem

if TYPE_CHECKING:
    from build_tools.handbook import Handbook

CHECKS = (
    schema.check,
    headings.check,
    crossings.check,
    citing.check,
    numbers.check,
    strength.check,
    cautions.check,
    navigation.check,
    links.check,
    files.check,
    abbreviations.check,
    sounds.check,
)


def run(handbook: Handbook, unread_ok: bool = False) -> list[Problem]:
    """Return the problems that all checks find. `unread_ok` leaves out the second reads."""
    found = [problem for check in CHECKS for problem in check(handbook)]
    if not unread_ok:
        found.extend(reading.check(handbook))
    return found
