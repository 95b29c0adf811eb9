"""The one door to the calculators: JSON text in, JSON text out.

The command line, Pyodide and MicroPython all come through here, so all give the same answer in the
same words. Text alone crosses: a number handed over by JavaScript can wrap at 2**31 in MicroPython.
engine.py describes the request, the answer and the sheet.
"""

import json

from calculators import engine

_sheets = {}
_formulas = {}


def load(sheet_json):
    """Register a calculator: JSON text of its sheet with its "id" (the name of its folder) in it."""
    sheet = json.loads(sheet_json)
    name = sheet["id"]
    _sheets[name] = sheet
    # A non-empty last argument makes __import__ return the module itself; importlib is not everywhere.
    _formulas[name] = __import__("calculators." + name + ".formula", None, None, ["formula"])


def answer(request_json):
    """Answer a request: JSON text in, JSON text out. Never raises for what a reader typed."""
    request = json.loads(request_json)
    name = request["calculator"]
    if name not in _sheets:
        return json.dumps(engine.unknown_calculator(name))
    return json.dumps(engine.answer(_sheets[name], _formulas[name], request))
