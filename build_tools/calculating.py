"""One answer of a calculator, as the command line gives it."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from build_tools import __version__
from build_tools.sheets_for_door import sheet_for_door
from calculators import door

if TYPE_CHECKING:
    from build_tools.handbook import Handbook


def answered(book: Handbook, name: str, typed: dict[str, str]) -> dict[str, Any]:
    """Return the door's reply to what was typed: {field: text}. An unknown name is a refusal of the door's, too."""
    if name in book.sheets:
        door.load(json.dumps(sheet_for_door(book, name)))
    request = {"calculator": name, "answers": typed, "units": {}, "complete": True, "version": __version__}
    reply: dict[str, Any] = json.loads(door.answer(json.dumps(request)))
    return reply
