"""A wrong check, sheet or formula is found, with its file and line."""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator
from typing import Any

import pytest

from build_tools.handbook import Sheet
from build_tools.proving import prove, typed
from calculators import door
from tests.calculators.loaded import SHEETS, sheet_text

MEAN = "mean_arterial_pressure"


@pytest.fixture
def sheet() -> Iterator[Sheet]:
    """A copy of a sheet that may be spoilt; the true one is registered again afterwards."""
    true = SHEETS[MEAN]
    yield Sheet(true.id, true.path, copy.deepcopy(true.data), true.lines)
    door.load(sheet_text(MEAN, true.data))


def test_all_checks_pass() -> None:
    """Every check of every sheet passes, and is counted by its kind."""
    proof = prove(SHEETS)
    assert proof.misses == []
    assert proof.count == sum(len(sheet.data["checks"]) for sheet in SHEETS.values())
    assert proof.count == sum(proof.by_kind.values())
    assert proof.by_kind["published"] >= 26


def test_drafts_are_not_proved(sheet: Sheet) -> None:
    """A sheet whose table nobody has held against its source is not counted, whatever its checks say."""
    sheet.data["status"] = "draft"
    sheet.data["checks"][0]["expect"] = {"one_third": "91"}
    assert prove({MEAN: sheet}).count == 0


@pytest.mark.parametrize(("expect", "says"), [
    ({"one_third": "91"}, "one_third is 90, expected 91"),
    ({"one_third in kPa": "12.1"}, "one_third in kPa is 12.0, expected 12.1"),
    ({"one_third": {"number": 91, "within": 0.5}}, "one_third is 90"),
    ({"septic-shock-target": "below"}, "septic-shock-target is reached, expected below"),
    ({"one_third says": "no such words"}, "one_third says “no such words” does not hold of"),
    ({"one_third omits": "is 90 mmHg"}, "one_third omits “is 90 mmHg” does not hold of"),
    ({"another": "1"}, "there is no result another"),
    ({"another says": "1"}, "there is no result another"),
    ({"one_third": {"right": "90"}}, "there is no result one_third (right)"),
    ({"rate_corrected": "97"}, "there is no result rate_corrected"),
])
def test_miss_names_file_line_and_numbers(sheet: Sheet, expect: dict[str, Any], says: str) -> None:
    """A wrong expectation is a miss on the line of its check."""
    sheet.data["checks"][0]["expect"] = expect
    (miss,) = prove({MEAN: sheet}).misses
    assert says in miss.message
    assert miss.file == "calculators/mean_arterial_pressure/sheet.toml"
    assert miss.line == SHEETS[MEAN].lines[("checks", 0)] > 100


@pytest.mark.parametrize(("changed", "says"), [
    ({"refused": "relation"}, "expected a refusal (relation), got answer []"),
    ({"given": {"systolic_mmhg": 80, "diastolic_mmhg": 120}}, "expected an answer, got refused: The diastolic"),
    ({"given": {"systolic_mmhg": 120}}, "expected an answer, got incomplete"),
    ({"cautioned": ["systolic_mmhg"]}, "cautions on [], expected on ['systolic_mmhg']"),
])
def test_wrong_state_is_a_miss(sheet: Sheet, changed: dict[str, Any], says: str) -> None:
    """An answer where a refusal was expected, or the other way round, is a miss."""
    sheet.data["checks"][0].update(changed)
    (miss,) = prove({MEAN: sheet}).misses
    assert says in miss.message


def spoil(data: dict[str, Any], path: list[Any], value: Any) -> None:
    """Set one place of a sheet."""
    for step in path[:-1]:
        data = data[step]
    data[path[-1]] = value


@pytest.mark.parametrize(("path", "value", "says"), [
    (["inputs", 1, "id"], "systolic_mmhg", "systolic_mmhg is used twice"),
    (["schemes", 0, "id"], "one_third", "names an output and a scheme"),
    (["inputs", 0, "usual"], [20, 220], "not inside the possible one"),
    (["inputs", 0, "other_units"], ["cm"], "cm does not measure the same as mmHg"),
    (["inputs", 2, "sided"], True, "the sheet has no sides"),
    (["relations", 0, "lower"], "nothing", "nothing is no input"),
    (["outputs", 0, "formula"], "no_such", "formula.py has no no_such"),
    (["outputs", 0, "takes"], ["systolic_mmhg"], "one_third takes other inputs"),
    (["outputs", 0, "takes"], ["systolic_mmhg", "height_cm"], "there is no input height_cm"),
    (["outputs", 0, "sided"], True, "do not agree on sides"),
    (["outputs", 0, "also"], [{"unit": "cm", "places": 1}], "cm does not measure the same as mmHg"),
    (["outputs", 0, "shows"], "median", "'median', which the formula does not return"),
    (["outputs", 0, "working"], ["{median}"], "'median', which the formula does not return"),
    (["schemes", 0, "reads"], ["two_thirds"], "there is no output two_thirds"),
    (["schemes", 0, "bands", 0, "id"], "reached", "two bands share an id"),
    (["schemes", 0, "bands", 0, "from"], 10, "the first band has an edge"),
    (["schemes", 0, "bands"], [{"id": "a", "label": "A"}, {"id": "b", "label": "B", "from": 70},
                               {"id": "c", "label": "C", "from": 65}], "do not rise"),
    (["inputs", 0, "answers"], [{"id": "none", "label": "None", "band": "no-such"}], "no scheme has the band no-such"),
    (["checks", 1, "example"], True, "2 checks are marked as the example"),
    (["inputs", 0, "id"], "other_mmhg", "no output takes other_mmhg"),
    (["refusals"], [{"formula": "no_such", "takes": ["systolic_mmhg"]}], "formula.py has no no_such"),
    (["refusals"], [{"formula": "one_third", "takes": ["systolic_mmhg"]}], "one_third takes other inputs"),
    (["refusals"], [{"formula": "one_third", "takes": ["height_cm"]}], "there is no input height_cm with one field"),
])
def test_faults_of_a_sheet(sheet: Sheet, path: list[Any], value: Any, says: str) -> None:
    """A name that points nowhere, a wrong order or a wrong unit is told before anything is reckoned."""
    spoil(sheet.data, path, value)
    misses = prove({MEAN: sheet}).misses
    assert any(says in miss.message for miss in misses), misses
    assert all(miss.line > 0 and miss.mend for miss in misses)


def test_sheet_without_formula(sheet: Sheet) -> None:
    """A folder without a formula is named."""
    alone = Sheet("no_such_calculator", sheet.path, sheet.data, sheet.lines)
    (miss,) = prove({alone.id: alone}).misses
    assert miss.file == "calculators/no_such_calculator/formula.py"


def test_given_is_flattened() -> None:
    """Lists become numbered fields, sides their own, and a decimal keeps its digits."""
    data = SHEETS["ankle_brachial_index"].data
    given = {"ankle_mmhg": {"right": [92, "no-flow"]}, "arm_mmhg": [120, 1.5]}
    assert typed(data, given) == {
        "ankle_mmhg.right.1": "92", "ankle_mmhg.right.2": "no-flow", "arm_mmhg.1": "120", "arm_mmhg.2": "1.5",
    }
    assert json.loads(json.dumps(typed(data, given)))
