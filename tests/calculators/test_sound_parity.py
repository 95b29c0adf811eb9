"""One sound in three engines: heart sounds in CPython, and in MicroPython and Pyodide as the browser runs them.

Samples are whole numbers up to 32767. They may differ by 2, a ten-thousandth of a loud one and far below hearing,
where an engine's sine or power rounds the last bit otherwise; every text and time must be the same.
"""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from build_tools.environment import ROOT
from calculators import door
from tests.calculators.heard import DATA, SCENES, SHEET, request

RUNNER = Path(__file__).with_name("parity.mjs")
APART = 2


def requests() -> list[str]:
    """Every scene with all else in turn; and what is refused or brought within limits."""
    found = []
    for number, scene in enumerate(SCENES):
        manoeuvre = DATA["manoeuvres"][number % len(DATA["manoeuvres"])]["id"]
        found.append(request(scene, rate=40 + number * 37 % 101, manoeuvre=manoeuvre, shifted=number % 4 == 3))
    found.append(request("aortic-stenosis", slow=True, rate=140, piece="bell"))
    odd = ({"rate": "72"}, {"rate": 1000}, {"rate": -1}, {"rate": 72.9}, {"scene": []}, {"area": None}, {"model": "?"})
    return [json.dumps(one) for one in [*found, *({**found[0], **change} for change in odd)]]


@pytest.mark.slow
@pytest.mark.parametrize("engine", ["micropython", "pyodide"])
def test_engines_make_the_same_sound(engine: str, tmp_path: Path) -> None:
    asked = requests()
    ours = [json.loads(door.answer(text)) for text in asked]
    job = tmp_path / "job.json"
    job.write_text(json.dumps({
        "engines": str(ROOT / "build_tools" / "engines" / "node_modules"),
        "files": {
            path.relative_to(ROOT).as_posix(): path.read_text("utf-8")
            for path in [*(ROOT / "calculators").glob("*.py"), *(ROOT / "calculators" / "models").glob("*.py")]
        },
        "sheets": [SHEET],
        "requests": asked,
    }), "utf-8")
    node = shutil.which("node", path=str(Path(sys.executable).parent))
    assert node, "Node.js comes with the test environment: run `python3 -m build_tools test`"
    done = subprocess.run([node, str(RUNNER), engine, str(job)], capture_output=True, encoding="utf-8", timeout=300)
    assert done.returncode == 0, done.stderr
    theirs = [json.loads(text) for text in json.loads(done.stdout)]
    assert {answer["state"] for answer in ours} == {"answer", "refused"}
    for text, one, other in zip(asked, ours, theirs, strict=True):
        mine, its = one.pop("samples", []), other.pop("samples", [])
        assert one == other, text
        apart = [abs(a - b) for a, b in zip(mine, its, strict=True)]
        assert max(apart, default=0) <= APART, text
        assert sum(apart) <= len(apart) / 50, text
