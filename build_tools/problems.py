"""A fault in what an author wrote, told the way a colleague would tell it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, order=True)
class Problem:
    """One fault: the file (relative to the root of the project, with slashes), the line (1-based; 0 for
    the file as a whole), what was found, and how to mend it."""

    file: str
    line: int
    message: str
    mend: str

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}" if self.line else self.file
        return f"{place}: {self.message.rstrip('.')}. Mend: {self.mend.rstrip('.?')}."


def report(problems: Iterable[Problem]) -> str:
    """Return all problems as text, sorted by file and line, one a line, with the count at the end."""
    found = sorted(set(problems))
    if not found:
        return "No problems."
    files = len({problem.file for problem in found})
    count = "1 problem" if len(found) == 1 else f"{len(found)} problems"
    return "\n".join([*map(str, found), f"{count} in {files} file{'s' if files > 1 else ''}."])
