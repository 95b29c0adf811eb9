"""The sheets of the calculators, loaded as the build loads them and registered at the door."""

from __future__ import annotations

import json
from typing import Any

from build_tools.handbook import Sheet
from calculators import door
from tests.whole import BOOK


def sheet_text(calculator: str, data: dict[str, Any]) -> str:
    """A sheet as it goes through the door."""
    return json.dumps({"id": calculator, **data})


def _load() -> dict[str, Sheet]:
    sheets = dict(sorted(BOOK.sheets.items()))
    for calculator, sheet in sheets.items():
        door.load(sheet_text(calculator, sheet.data))
    return sheets


SHEETS = _load()


def ask(calculator: str, answers: dict[str, str], **request: Any) -> dict[str, Any]:
    """The door's answer to what was typed, asked for as with the button unless `complete=False`."""
    whole = {"calculator": calculator, "answers": answers, "complete": True, **request}
    answer: dict[str, Any] = json.loads(door.answer(json.dumps(whole)))
    return answer
