"""Measure what the reader waits for, beside the stock loader on the same machine, and print one table.

Usage: python -m tests.benchmarks [--runs 3] [reading|watching|building ...]
"""

from __future__ import annotations

import argparse
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

from build_tools.environment import ROOT
from tests.benchmarks import building, reading, watching
from tests.benchmarks.table import Row, show


def main() -> int:
    parser = argparse.ArgumentParser(prog="python3 -m build_tools benchmark", description=__doc__)
    parser.add_argument("parts", nargs="*", help="reading, watching, building (all)")
    parser.add_argument("--runs", type=int, default=3, help="openings of each page; the middle one counts (3)")
    given = parser.parse_args()
    parts = given.parts or ["reading", "watching", "building"]
    with tempfile.TemporaryDirectory(prefix="benchmark-") as folder:
        rows: list[Row] = []
        held = True
        site = Path(folder) / "site"
        if {"reading", "watching"} & {*parts}:
            _build(site)
            held = _profile(Path(folder), rows)
        if "reading" in parts:
            _read(Path(folder), site, given.runs, rows)
        if "watching" in parts:
            rows += watching.rows(site)
        if "building" in parts:
            rows += building.rows(Path(folder))
        print(show(rows))
    if not held:
        print("The machine did not hold the profile, so the times mean little. Run it again when less else runs.")
    return 0 if held else 1


def _tell(line: str) -> None:
    print(line, file=sys.stderr, flush=True)


def _build(site: Path) -> None:
    build = [sys.executable, "-m", "build_tools", "build", "--unread-ok", "--site", str(site)]
    subprocess.run(build, cwd=ROOT, check=True, stdout=subprocess.DEVNULL)


def _profile(folder: Path, rows: list[Row]) -> bool:
    """Measure whether browser and line are really slowed as they should be."""
    _tell("Measuring the profile ...")
    found = reading.profile(folder / "check")
    rows += [
        Row("processor slowed, in a page", found.page, "times", "3.5 to 4.5", 3.5 <= found.page <= 4.5),
        Row("processor slowed, in a worker", found.worker, "times", "3.5 to 4.5", 3.5 <= found.worker <= 4.5),
        Row("line, in a worker", found.line, "Mbit/s", "10", 9 <= found.line <= 11),
    ]
    return found.holds


def _read(folder: Path, site: Path, runs: int, rows: list[Row]) -> None:
    stock = reading.stock_site(site, folder / "stock")
    ours, theirs, unslowed = [], [], []
    for run in range(runs):
        _tell(f"Opening the pages, {run + 1} of {runs} ...")
        ours.append(reading.openings(site, reading.PAGE, ("answer", "agreed"), True))
        theirs.append(reading.openings(stock, "index.html", ("answer",), True))
        unslowed.append(reading.openings(site, reading.PAGE, ("answer", "agreed"), False))

    def middle(pairs: list[tuple[reading.Opening, reading.Opening]], warm: bool, kind: str) -> float:
        return statistics.median(pair[warm].told[kind] for pair in pairs) / 1000

    def most(pairs: list[tuple[reading.Opening, reading.Opening]], take: Callable[[reading.Opening], int]) -> float:
        return max(take(pair[False]) for pair in pairs) / 1e6

    cold, stock_cold = middle(ours, False, "answer"), middle(theirs, False, "answer")
    warm, stock_warm = middle(ours, True, "answer"), middle(theirs, True, "answer")
    ready = middle(ours, True, "agreed")
    total, stock_total = most(ours, lambda one: one.total), most(theirs, lambda one: one.total)
    before = most(ours, lambda one: one.bytes_by["answer"])
    rows += [
        Row("cold: first answer", cold, "s", "1.0", cold <= 1.0),
        Row("cold: first answer, stock loader", stock_cold, "s"),
        Row("cold: share of stock", cold / stock_cold, "", "0.10", cold / stock_cold <= 0.1),
        Row("warm: first answer", warm, "s", "0.5", warm <= 0.5),
        Row("warm: first answer, stock loader", stock_warm, "s"),
        Row("cold: both engines agree", middle(ours, False, "agreed"), "s"),
        Row("warm: both engines agree", ready, "s"),
        Row("warm: Pyodide, share of stock", ready / stock_warm, "", "0.33", ready / stock_warm <= 1 / 3),
        Row("cold: first answer, not slowed", middle(unslowed, False, "answer"), "s"),
        Row("warm: first answer, not slowed", middle(unslowed, True, "answer"), "s"),
        Row("bytes before the first answer", before, "MB", "0.60", before <= 0.6),
        Row("bytes for everything", total, "MB"),
        Row("bytes for everything, share of stock", total / stock_total, "", "0.67", total / stock_total <= 2 / 3),
    ]
    _tell("Typing, searching, filtering ...")
    typed = reading.typing(site)
    first, later = reading.search(site)
    filtered = reading.filtering(site)
    rows += [
        Row("typing to answer, 95th percentile", typed, "ms", "16", typed <= 16),
        Row("search: first result, index fetched", later, "ms", "200", later <= 200),
        Row("search: first result, index to fetch", first, "ms"),
        Row("filter of normal values", filtered, "ms", "50", filtered <= 50),
    ]


if __name__ == "__main__":
    sys.exit(main())
