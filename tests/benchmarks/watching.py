"""How smoothly the traces of the wave laboratory run on a phone."""

from __future__ import annotations

import statistics
from itertools import pairwise
from pathlib import Path

from tests.benchmarks.phone import phone
from tests.benchmarks.slow_server import Line, slowly
from tests.benchmarks.table import Row

HERE = Path(__file__).parent
PAGE = "learning/wave-laboratory.html"
SECONDS = 8
SETTLING = 4000  # milliseconds: what else a page does after it has opened is over then
# Mitral stenosis in atrial fibrillation at a fast rate, breathing: the most there is to reckon and to draw.
HARDEST = """
(() => {
  const set = (name, value) => {
    const field = document.querySelector(`[data-choice=${name}]`);
    field.value = value;
    field.dispatchEvent(new Event("change", { bubbles: true }));
  };
  set("condition", "mitral-stenosis");
  set("rhythm", "fibrillation");
  set("rate", "140");
})()
"""


def rows(site: Path) -> list[Row]:
    """Open the laboratory on a slowed phone; give the time to the first trace, and its frames for some seconds."""
    with slowly(site, Line()) as address, phone() as reader:
        reader.before_each_page((HERE / "watching.js").read_text(encoding="utf-8"))
        reader.open(address + PAGE)
        _, first = reader.hear(lambda said: said["kind"] == "traces")
        reader.run(HARDEST)
        reader.run(f"new Promise((resolve) => setTimeout(resolve, {SETTLING}))")
        count = "paintings.length = 0; new Promise((resolve) => setTimeout(() => resolve(paintings), %d))"
        paintings = reader.run(count % (SECONDS * 1000))
    gaps = sorted(after - before for before, after in pairwise(paintings))
    rate = len(paintings) / SECONDS
    late = gaps[round(0.95 * len(gaps)) - 1]
    return [
        Row("waves: first trace, cold", first["at"] / 1000, "s", "2.0", first["at"] <= 2000),
        Row("waves: frames a second", rate, "", "30", rate >= 30),
        Row("waves: between two frames, middle", statistics.median(gaps), "ms"),
        Row("waves: between two frames, 95th percentile", late, "ms", "50", late <= 50),
        Row("waves: longest stop", gaps[-1], "ms", "300", gaps[-1] <= 300),
    ]
