"""The one door to the calculators and models: JSON text in, JSON text out.

The command line, Pyodide and MicroPython all come through here, so all give the same answer in the
same words. Text alone crosses: a number handed over by JavaScript can wrap at 2**31 in MicroPython.
engine.py describes the request, the answer and the sheet of a calculator; models/__init__.py those of a model.
"""

import json

from calculators import engine

_sheets = {}
_formulas = {}
_models = {}


def load(sheet_json):
    """Register a calculator or a model, from JSON text.

    The sheet of a calculator has its "id" (the name of its folder) in it, the data of a model its "model" (the
    name of its module).
    """
    sheet = json.loads(sheet_json)
    if "model" in sheet:
        name = sheet["model"]
        _models[name] = (_module("calculators.models." + name), sheet)
    else:
        name = sheet["id"]
        _sheets[name] = sheet
        _formulas[name] = _module("calculators." + name + ".formula")


def _module(name):
    # A non-empty last argument makes __import__ return the module itself; importlib is not everywhere.
    return __import__(name, None, None, ["answer"])


def answer(request_json):
    """Answer a request: JSON text in, JSON text out. Never raises for what a reader typed."""
    request = json.loads(request_json)
    if "model" in request:
        return json.dumps(_of_model(request["model"], request))
    name = request["calculator"]
    if name not in _sheets:
        return json.dumps(engine.unknown_calculator(name))
    return json.dumps(engine.answer(_sheets[name], _formulas[name], request))


def _of_model(name, request):
    if not isinstance(name, str) or name not in _models:
        return {"model": name, "state": "refused", "problem": "There is no model of that name here."}
    module, data = _models[name]
    return module.answer(data, request)
