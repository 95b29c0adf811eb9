"""The working that a result shows can be done again, line by line, from the numbers in it."""

from __future__ import annotations

import json
import math
import re

import pytest

from calculators import door
from tests.calculators.grid import REQUESTS
from tests.calculators.loaded import SHEETS, ask

LINE = re.compile(r"(?:.*: )?(?P<sum>.+) = (?P<result>[−\d.]+)[^\d]*$")
MEANING = [("−", "-"), ("×", "*"), ("÷", "/"), ("ln(", "log(")]


def done_again(line: str) -> tuple[float, float, float] | None:
    """(what the line comes to, what it says, one unit of its last decimal); None for a line without a sum."""
    if "=" not in line:
        return None
    found = LINE.match(line)
    assert found, f"not a sum that can be done again: {line}"
    reckoned = found["sum"]
    for sign, meaning in MEANING:
        reckoned = reckoned.replace(sign, meaning)
    assert re.fullmatch(r"[\d.+\-*/() ]*(log\([\d.\- ]+\)[\d.+\-*/() ]*)?", reckoned), f"not a sum: {line}"
    said = found["result"].replace("−", "-")
    _, _, decimals = said.partition(".")
    return eval(reckoned, {"log": math.log}), float(said), 10.0 ** -len(decimals)


@pytest.mark.parametrize("calculator", SHEETS)
def test_shown_lines_come_out(calculator: str) -> None:
    """Each line with a sum gives what it says, to the last shown decimal; each output shows at least one line."""
    lines = set()
    shown = set()
    for request in REQUESTS:
        if request["calculator"] == calculator:
            for result in json.loads(door.answer(json.dumps(request)))["results"]:
                if result["value"] != "":
                    assert result["working"]
                    shown.add(result["output"])
                    lines.update(result["working"])
    assert shown == {output["id"] for output in SHEETS[calculator].data["outputs"]}
    sums = {line: sum_ for line in sorted(lines) if (sum_ := done_again(line))}
    # Criteria of one item each have nothing to add up.
    assert sums or "items" in SHEETS[calculator].data
    wrong = [line for line, (comes_to, said, unit) in sums.items() if abs(comes_to - said) > unit * 1.001]
    assert wrong == []


def test_last_line_says_the_result() -> None:
    """The working ends in the number that the result shows."""
    result = ask("mean_arterial_pressure", {"systolic_mmhg": "120", "diastolic_mmhg": "80"})["results"][0]
    assert result["working"] == ["Pulse pressure: 120 − 80 = 40 mmHg", "Mean: 80 + 40 ÷ 3 = 93.3 mmHg"]
    assert result["value"] == "93"
