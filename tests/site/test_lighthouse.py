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


@pytest.mark.slow
@pytest.mark.parametrize("name", ["index.html", "examination/blood-pressure.html", "calculators/pressure.html"])
def test_lighthouse_gives_at_least_95(address: str, tmp_path: Path, name: str) -> None:
    report = tmp_path / "report.json"
    command = [
        "node", str(COMMAND), address + name, "--quiet", "--output=json", f"--output-path={report}",
        f"--only-categories={','.join(CATEGORIES)}",
        "--chrome-flags=--headless=new --no-sandbox --disable-gpu --disable-background-networking",
    ]
    subprocess.run(command, check=True, timeout=180, env={**os.environ, "CHROME_PATH": chromium_path()})
    told = json.loads(report.read_text(encoding="utf-8"))
    scores = {name: round(100 * told["categories"][name]["score"]) for name in CATEGORIES}
    assert min(scores.values()) >= 95, scores
