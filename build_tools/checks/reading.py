"""Second reads: every figure has been held against its source by someone who did not write the page."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from build_tools import second_reads
from build_tools.problems import Problem

if TYPE_CHECKING:
    from build_tools.handbook import Handbook


def check(handbook: Handbook) -> Iterator[Problem]:
    """Yield the figures without a second read, and the reads whose figure has changed or gone."""
    unread: dict[str, list[second_reads.Unit]] = {}
    for unit in second_reads.missing(handbook):
        unread.setdefault(unit.of, []).append(unit)
    for of, units in unread.items():
        lines = sorted({unit.line for unit in units})
        told = f"lines {', '.join(map(str, lines[:-1]))} and {lines[-1]}" if len(lines) > 1 else f"line {lines[0]}"
        yield Problem(
            units[0].file,
            lines[0],
            f"nobody has read the figures on {told} a second time",
            f"hold them against their sources, then: python -m build_tools second-read sign {of}",
        )
    for index, read in second_reads.stale(handbook):
        line = handbook.read_lines.get(("reads", index), 1)
        yield Problem(
            second_reads.LEDGER,
            line,
            f"this read belongs to no figure any more: {read.get('says', '')}",
            f"read the page again, then: python -m build_tools second-read sign {read.get('of', '')}",
        )
