"""One answer in three engines: CPython, and MicroPython and Pyodide as they run in the browser.

A grid of requests per calculator (the checks of its sheet, limits, halves, answers, odd texts) goes through the
door in each engine. Raw values may differ by 1e-12, since the engines' libraries round some functions
differently in the last bit; every text must be the same.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from build_tools.environment import ROOT
from calculators import door
from calculators.bands import OPEN
from tests.calculators.engines import answers_of
from tests.calculators.grid import REQUESTS
from tests.calculators.loaded import SHEETS, sheet_text


@pytest.fixture(scope="module")
def desktop() -> list[dict[str, Any]]:
    """The answers of CPython, to the same sheets: another test may have registered them with their works cited."""
    for calculator, sheet in SHEETS.items():
        door.load(sheet_text(calculator, sheet.data))
    return [json.loads(door.answer(json.dumps(request))) for request in REQUESTS]


@pytest.mark.slow
@pytest.mark.parametrize("engine", ["micropython", "pyodide"])
def test_engines_agree(engine: str, desktop: list[dict[str, Any]], tmp_path: Path) -> None:
    """Every request has the same answer in the browser's engine as on the desktop."""
    sheets = [sheet_text(calculator, sheet.data) for calculator, sheet in SHEETS.items()]
    requests = [json.dumps(request) for request in REQUESTS]
    answers = answers_of(engine, (ROOT / "calculators").rglob("*.py"), sheets, requests, tmp_path)
    differences = [
        f"{request}: {difference}"
        for request, ours, theirs in zip(REQUESTS, desktop, answers, strict=True)
        for difference in differ(ours, theirs)
    ]
    assert differences == []


def differ(ours: Any, theirs: Any, where: str = "") -> Iterator[str]:
    """Say where two answers differ: texts at all, numbers by more than 1e-12."""
    if isinstance(ours, dict) and isinstance(theirs, dict):
        for key in sorted({*ours, *theirs}):
            yield from differ(ours.get(key), theirs.get(key), f"{where}.{key}")
    elif isinstance(ours, list) and isinstance(theirs, list) and len(ours) == len(theirs):
        for index, (one, other) in enumerate(zip(ours, theirs, strict=True)):
            yield from differ(one, other, f"{where}[{index}]")
    elif isinstance(ours, float) and isinstance(theirs, (int, float)):
        if not math.isclose(ours, theirs, rel_tol=1e-12, abs_tol=1e-12):
            yield f"{where}: {ours!r} and {theirs!r}"
    elif ours != theirs:
        yield f"{where}: {ours!r} and {theirs!r}"


def test_grid_reaches_everything(desktop: list[dict[str, Any]]) -> None:
    """The grid meets every band of every scheme, every state and every kind of problem."""
    reached = {
        (answer["calculator"], band["scheme_id"], band["band"])
        for answer in desktop for result in answer["results"] for band in result["bands"] if band["band"] != OPEN
    }
    expected = {
        (calculator, scheme["id"], band["id"])
        for calculator, sheet in SHEETS.items() for scheme in sheet.data.get("schemes", [])
        for band in scheme.get("bands", scheme.get("rules"))
    }
    assert reached == expected
    assert {answer["state"] for answer in desktop} == {"answer", "incomplete", "refused"}
    kinds = {problem["kind"] for answer in desktop for problem in answer["problems"]}
    assert kinds == {"missing", "unreadable", "impossible", "relation", "excluded"}
    answered = [answer["calculator"] for answer in desktop if answer["state"] == "answer"]
    for calculator in SHEETS:
        assert answered.count(calculator) > 50, f"{calculator}: too few answers to compare"
