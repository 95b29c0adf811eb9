"""One sound in three engines: heart sounds in CPython, and in MicroPython and Pyodide as the browser runs them.

Samples are whole numbers up to 32767. They may differ by 2, a ten-thousandth of a loud one and far below hearing,
where an engine's sine or power rounds the last bit otherwise; every text and time must be the same.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from build_tools.environment import ROOT
from calculators import door
from tests.calculators.engines import answers_of
from tests.calculators.heard import DATA, SCENES, SHEET, request

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
    modules = [*(ROOT / "calculators").glob("*.py"), *(ROOT / "calculators" / "models").glob("*.py")]
    theirs = answers_of(engine, modules, [SHEET], asked, tmp_path)
    assert {answer["state"] for answer in ours} == {"answer", "refused"}
    for text, one, other in zip(asked, ours, theirs, strict=True):
        mine, its = one.pop("samples", []), other.pop("samples", [])
        assert one == other, text
        apart = [abs(a - b) for a, b in zip(mine, its, strict=True)]
        assert max(apart, default=0) <= APART, text
        assert sum(apart) <= len(apart) / 50, text
