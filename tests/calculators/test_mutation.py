"""How strong the checks are: no number can be moved unseen.

Each number of a formula, and each limit, edge, stand-in, error and number of decimals in a sheet, is moved by
one unit of its last place, up and down. A check of the sheet must miss, or the number is listed in
survivors.toml with the reason why nothing can tell.
"""

from __future__ import annotations

import importlib
import json
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

from build_tools.handbook import Sheet
from build_tools.proving import answered, missed
from build_tools.sheet_faults import faults
from calculators import door
from tests.calculators.loaded import SHEETS, sheet_text
from tests.calculators.mutants import Mutant, formula_mutants, moved, sheet_mutants

LISTED = tomllib.loads(Path(__file__).with_name("survivors.toml").read_text("utf-8")).get("survivors", [])


@pytest.mark.slow
@pytest.mark.parametrize("calculator", SHEETS)
def test_moved_numbers_are_seen(calculator: str) -> None:
    """Every mutant is caught by a check or listed; every listed one still survives."""
    sheet = SHEETS[calculator]
    assert list(misses(sheet, Mutant("as it is", None, None))) == []
    mutants = [*formula_mutants(calculator), *sheet_mutants(sheet)]
    assert mutants
    survivors = [mutant.name for mutant in mutants if not any(True for _ in misses(sheet, mutant))]
    listed = [entry["where"] for entry in LISTED if entry["where"].startswith(f"calculators/{calculator}/")]
    assert [name for name in survivors if not name.startswith(tuple(listed))] == []
    assert [where for where in listed if not any(name.startswith(where) for name in survivors)] == []


def misses(sheet: Sheet, mutant: Mutant) -> Iterator[str]:
    """Run the checks of a sheet against a mutant, as far as the first miss is wanted."""
    data = mutant.data or sheet.data
    yield from (str(fault) for fault in faults(sheet.id, data, sheet.lines))
    door.load(sheet_text(sheet.id, data))
    if mutant.formulas:
        door._formulas[sheet.id] = mutant.formulas
    try:
        for check in sheet.data["checks"]:
            try:
                yield from missed(data, answered(sheet.id, data, check), check)
            except (ArithmeticError, LookupError, TypeError, ValueError) as error:
                yield f"fails: {error}"
    finally:
        door.load(sheet_text(sheet.id, sheet.data))


def test_every_survivor_has_a_reason() -> None:
    """A listed number says why nothing can tell that it moved."""
    for entry in LISTED:
        assert set(entry) == {"where", "reason"}
        assert len(entry["reason"]) > 20
        assert importlib.util.find_spec(entry["where"].split("/")[0])


@pytest.mark.parametrize(("text", "others"), [
    ("0.40", ["0.41", "0.39"]), ("5", ["6", "4"]), ("8.0", ["8.1", "7.9"]), ("-15", ["-14", "-16"]),
])
def test_one_unit_of_the_last_place(text: str, others: list[str]) -> None:
    """A number is moved by the last digit it is written with."""
    assert list(moved(text)) == others


def test_sheets_stand_after_the_mutants() -> None:
    """The calculators answer as before."""
    for calculator, sheet in SHEETS.items():
        request = {"calculator": calculator, "answers": {}, "complete": True}
        assert json.loads(door.answer(json.dumps(request)))["state"] == "incomplete", sheet.id
