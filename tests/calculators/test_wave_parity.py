"""One trace in three engines: the wave laboratory in CPython, and in MicroPython and Pyodide as the browser runs them.

Samples are whole numbers of a thousandth of an R wave or of a first sound, of a hundredth or a tenth of a mmHg. They
may differ by one where an engine's sine rounds the last bit otherwise; every text and time must be the same.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from build_tools.environment import ROOT
from build_tools.laboratories import model_for_door
from calculators import door
from tests.calculators.engines import answers_of
from tests.whole import BOOK

DATA = model_for_door(BOOK, "wave_laboratory")
STRETCH = 1500


def requests() -> list[str]:
    """Every condition in every rhythm, at its slowest and fastest, breathing in turn; and what is refused."""
    found = []
    for number, condition in enumerate(DATA["conditions"]):
        for place, rhythm in enumerate(DATA["rhythms"]):
            rate = rhythm["rates"][(number + place) % 2]
            breathing = DATA["breathing"][(number + place) % 3]["id"]
            start = (number * 7 + place * 3) * 1000
            found.append({
                "model": "wave_laboratory", "condition": condition["id"], "rhythm": rhythm["id"],
                "breathing": breathing, "rate": str(rate), "from": str(start), "until": str(start + STRETCH),
            })
    odd = ({"rate": "1,200"}, {"rate": 75}, {"condition": "?"}, {"from": "1e5"}, {"until": "\u22125"}, {"rhythm": {}})
    return [json.dumps(request) for request in [*found, *({**found[0], **one} for one in odd)]]


@pytest.mark.slow
@pytest.mark.parametrize("engine", ["micropython", "pyodide"])
def test_engines_draw_the_same(engine: str, tmp_path: Path) -> None:
    sheet = json.dumps(DATA)
    door.load(sheet)
    asked = requests()
    ours = [json.loads(door.answer(request)) for request in asked]
    modules = [*(ROOT / "calculators").glob("*.py"), *(ROOT / "calculators" / "models").glob("*.py")]
    theirs = answers_of(engine, modules, [sheet], asked, tmp_path)
    assert {answer["state"] for answer in ours} == {"answer", "refused"}
    for request, one, other in zip(asked, ours, theirs, strict=True):
        assert _without_samples(one) == _without_samples(other), request
        for lane, same in zip(one.get("lanes", []), other.get("lanes", []), strict=True):
            apart = [abs(a - b) for a, b in zip(lane["samples"], same["samples"], strict=True)]
            assert max(apart) <= 1, (request, lane["id"])
            assert sum(apart) <= len(apart) / 50, (request, lane["id"])


def _without_samples(answer: dict[str, Any]) -> dict[str, Any]:
    lanes = [{key: value for key, value in lane.items() if key != "samples"} for lane in answer.get("lanes", [])]
    return {**answer, "lanes": lanes}
