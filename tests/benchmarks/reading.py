"""What a reader waits for on a phone: the first answer, the second engine, typing, searching, filtering."""

from __future__ import annotations

import gzip
import json
import os
import shutil
import statistics
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from build_tools.compressing import compress, packed
from build_tools.runtime import PYODIDE
from tests.benchmarks.phone import Phone, phone
from tests.benchmarks.slow_server import DELAY, Line, slowly

HERE = Path(__file__).parent
PAGE = "calculators/pressure.html"
STOCK_FILES = ("pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm", "python_stdlib.zip", "pyodide-lock.json")
MEGABYTE = 1_000_000
WORDS = ("jug", "capillary", "normal abpi", "water hammer", "s")
FILTERS = ("j", "120", "capillary", "child", "")


@dataclass(frozen=True)
class Profile:
    """How the profile turned out: times slower in page and worker, and Mbit/s that a worker fetched with."""

    page: float
    worker: float
    line: float

    @property
    def holds(self) -> bool:
        return all(3.5 <= times <= 4.5 for times in (self.page, self.worker)) and 9 <= self.line <= 11


def profile(folder: Path) -> Profile:
    """Time a fixed loop in page and worker, slowed and not, and the fetch of a megabyte in a worker."""
    shutil.copytree(HERE / "check", folder)
    (folder / "megabyte.bin").write_bytes(os.urandom(MEGABYTE))
    with slowly(folder, Line()) as address, phone(slowed=False) as reader:
        reader.open(address)
        reader.run(_pause(1000))
        reader.run(f"window.tasks = {_tasks()}; tasks.profile('loop')")
        pairs = []
        # Slowed and not in turn, so that both meet the same load of the machine.
        for _ in range(9):
            reader.slow(False)
            plain = reader.run("tasks.profile('loop')")
            reader.slow()
            reader.run(_pause(100))
            slowed = reader.run("tasks.profile('loop')")
            pairs.append([slowed[place] / plain[place] for place in (0, 1)])
        fetched = statistics.median(reader.run("tasks.profile('fetch')")[1] for _ in range(3))
    page, worker = (statistics.median(pair[place] for pair in pairs) for place in (0, 1))
    # The connection stands already.
    return Profile(page, worker, MEGABYTE * 8 / 1e6 / (fetched / 1000 - DELAY))


def stock_site(site: Path, folder: Path) -> Path:
    """Make a page that answers the same question with Pyodide and its own loader, as its documentation shows it."""
    shutil.copytree(HERE / "stock", folder)
    for name in STOCK_FILES:
        shutil.copy(PYODIDE / name, folder)
    for name, pattern in (("core", "core.*.bin"), ("calculator", "mean_arterial_pressure.*.bin")):
        [path] = site.glob(f"engine/{pattern}")
        (folder / f"{name}.json").write_bytes(gzip.decompress(path.read_bytes()))
    compress(folder)
    # A good server packs these too; only so is the comparison fair.
    for name in ("pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm"):
        (folder / f"{name}.gz").write_bytes(packed((folder / name).read_bytes()))
    return folder


@dataclass
class Opening:
    """One opening of a page: milliseconds to each thing told, bytes sent by then, bytes sent in all."""

    told: dict[str, float]
    bytes_by: dict[str, int]
    total: int


def _open(reader: Phone, address: str, line: Line, kinds: tuple[str, ...]) -> Opening:
    line.sent.clear()
    reader.open(address)
    told: dict[str, float] = {}
    bytes_by = {}
    for kind in kinds:
        moment, said = reader.hear(lambda said, kind=kind: said["kind"] == kind)
        told[kind] = said["at"]
        bytes_by[kind] = line.bytes_until(moment)
    return Opening(told, bytes_by, line.bytes_until(float("inf")))


def openings(folder: Path, page: str, kinds: tuple[str, ...], slowed: bool) -> tuple[Opening, Opening]:
    """Open a page cold, then once more from a page between, warm."""
    line = Line()
    with slowly(folder, line) as address, phone(slowed=slowed) as reader:
        if page == PAGE:
            reader.before_each_page((HERE / "reader.js").read_text(encoding="utf-8"))
        cold = _open(reader, address + page, line, kinds)
        if page == PAGE:
            # A second visit finds the pages kept.
            reader.run("navigator.serviceWorker.ready.then(() => true)")
        reader.run(_pause(1500))
        reader.open("about:blank")
        reader.run(_pause(1000))
        warm = _open(reader, address + page, line, kinds)
    return cold, warm


def _pause(milliseconds: int) -> str:
    return f"new Promise((resolve) => setTimeout(resolve, {milliseconds}))"


def _tasks() -> str:
    return (HERE / "tasks.js").read_text(encoding="utf-8").strip()


def _in_page(folder: Path, page: str, task: Callable[[Phone], Any]) -> Any:
    with slowly(folder, Line()) as address, phone() as reader:
        if page == PAGE:
            reader.before_each_page((HERE / "reader.js").read_text(encoding="utf-8"))
        reader.open(address + page)
        if page == PAGE:
            reader.hear(lambda said: said["kind"] == "agreed")
        reader.run("new Promise((resolve) => document.readyState === 'complete' ? resolve() : onload = resolve)")
        reader.run(_pause(2500))
        return task(reader)


def typing(folder: Path, times: int = 60) -> float:
    """The 95th percentile of milliseconds from a keystroke to the answer, both engines up."""
    taken = _in_page(folder, PAGE, lambda reader: reader.run(f"{_tasks()}.typing({times})"))
    return sorted(taken)[round(0.95 * len(taken)) - 1]


def search(folder: Path) -> tuple[float, float]:
    """Milliseconds to the first result: with the index still to fetch, and the longest of later ones."""
    taken = _in_page(folder, "index.html", lambda reader: reader.run(f"{_tasks()}.search({json.dumps(WORDS)})"))
    return taken[0], max(taken[1:])


def filtering(folder: Path) -> float:
    """The longest of milliseconds from a keystroke in the filter of normal values to the painted page."""
    task = f"{_tasks()}.filter({json.dumps(FILTERS)})"
    return float(max(_in_page(folder, "values/index.html", lambda reader: reader.run(task))))
