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
    for unit in second_reads.missing(handbook):
        yield Problem(
            unit.file,
            unit.line,
            f"nobody has read this a second time: {unit.says}",
            f"hold it against its source, then: python -m build_tools second-read sign {unit.of}",
        )
    for index, read in second_reads.stale(handbook):
        line = handbook.read_lines.get(("reads", index), 1)
        yield Problem(
            second_reads.LEDGER,
            line,
            f"this read belongs to no figure any more: {read.get('says', '')}",
            f"read the page again, then: python -m build_tools second-read sign {read.get('of', '')}",
        )
