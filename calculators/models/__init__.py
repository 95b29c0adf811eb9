"""Models: what sounds and moves, reckoned sample by sample.

A model NAME is a module NAME.py with `answer(data, request)` and, where it has parameters, a NAME.toml beside it
with a source in every row. data: the TOML file as a dict, with "model" (its name) added. request: a dict with
"model" and whatever that model reads; odd entries are refused in words or brought within limits, never raised.
The answer is a dict with "model", "state" ("answer" or "refused"; then "problem" says why) and, all else being the
model's own, only integers, texts, lists and dicts: engines print floats differently.
"""
