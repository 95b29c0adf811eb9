"""Requests that reach every corner of every calculator, the same in every run."""

from __future__ import annotations

import random
from collections.abc import Iterator
from typing import Any

from build_tools.proving import typed
from calculators import form
from tests.calculators.loaded import SHEETS

REQUESTS_PER_CALCULATOR = 150
ODD_TEXTS = ["", "abc", "1,200", "120/80", "7,5", "\u22122", "16 kPa", "\u00a080\u202f", "1e5", "inf", "１２", "80 psi"]


def grid(calculator: str, data: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """Requests for one calculator: its checks, then limits, halves, values between, answers and odd texts."""
    for check in data["checks"]:
        yield {
            "calculator": calculator, "answers": typed(data, check["given"]), "units": check.get("units", {}),
            "complete": True, "version": "1.2.3",
        }
    chance = random.Random(calculator)
    for number in range(REQUESTS_PER_CALCULATOR):
        answers = {}
        units = {}
        for field in form.fields(data):
            answers[field["field"]] = _text(field["input"], chance)
            if chance.random() < 0.1 and form.choices(field["input"]):
                units[field["input"]["id"]] = chance.choice(form.choices(field["input"]))
        yield {"calculator": calculator, "answers": answers, "units": units, "complete": number % 3 > 0}


def _text(entry: dict[str, Any], chance: random.Random) -> str:
    """Something to type: a limit, a value at, beside or between them, an answer, or an odd text."""
    if "choices_from" in entry and entry.get("optional") and chance.random() < 0.7:
        # Two of the handbook's findings can hardly ever go together: most often one alone is asked for.
        return ""
    if "choices" in entry:
        # Who is told that a calculator is not for them gets no answer to compare: they are drawn less often.
        options = [option["id"] for option in entry["choices"] if "refuses" not in option or chance.random() < 0.1]
        return chance.choice(ODD_TEXTS) if chance.random() < 0.02 else str(chance.choice(options))
    if "columns" in entry:
        return _table(entry, chance)
    low, high = (float(limit) for limit in entry["possible"])
    least, most = (float(limit) for limit in entry["usual"])
    luck = chance.random()
    if luck < 0.02:
        return chance.choice(ODD_TEXTS)
    if luck < 0.3 and entry.get("answers"):
        return str(chance.choice(entry["answers"])["id"])
    if luck < 0.35:
        return str(chance.choice([low - 0.1, low, least - 0.1, least, most, most + 0.1, high, high + 0.1]))
    value = chance.uniform(least, most)
    if entry.get("whole"):
        return str(round(value))
    return str(chance.choice([round(value), round(value) + 0.5, round(value, 1), round(value, 2), value]))


def _table(entry: dict[str, Any], chance: random.Random) -> str:
    """A pasted table whose columns rise together, more or less; now and then an odd line in it."""
    lines = []
    for _ in range(chance.randint(8, 60)):
        step = chance.randint(1, 5)
        score = step * 10 + chance.choice([0, 0.5, round(chance.uniform(0, 30), 1)])
        lines.append(chance.choice([" ", "\t", ";", ",", ", "]).join([str(step), str(score)]))
    if chance.random() < 0.1:
        lines.append(chance.choice(ODD_TEXTS))
    assert len(entry["columns"]) == 2
    return chance.choice(["\n", "\r\n"]).join(lines)


REQUESTS = [request for calculator, sheet in SHEETS.items() for request in grid(calculator, sheet.data)]
