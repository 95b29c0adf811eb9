"""Faults in a sheet that its schema cannot see: names that point nowhere, edges out of order."""

from __future__ import annotations

import importlib
import inspect
from collections.abc import Iterator
from itertools import pairwise
from types import ModuleType
from typing import Any

from build_tools.loading import line_of
from build_tools.problems import Problem
from calculators import bands, units

# Where in the sheet, what was found, how to mend it.
Fault = tuple[tuple[Any, ...], str, str]


def faults(calculator: str, data: dict[str, Any], lines: dict[tuple[Any, ...], int]) -> list[Problem]:
    """Return the faults of one sheet. calculator: its id; data: the parsed TOML; lines: path to line."""
    try:
        formulas = importlib.import_module(f"calculators.{calculator}.formula")
    except ImportError as error:
        file = f"calculators/{calculator}/formula.py"
        return [Problem(file, 0, f"the formula cannot be imported: {error}", "write it beside the sheet")]
    return [
        Problem(f"calculators/{calculator}/sheet.toml", line_of(lines, path), message, mend)
        for found in (_repeats(data), _inputs(data), _outputs(data, formulas), _schemes(data), _checks(data))
        for path, message, mend in found
    ]


def _repeats(data: dict[str, Any]) -> Iterator[Fault]:
    for kind in ("sides", "inputs", "outputs", "schemes"):
        seen: set[str] = set()
        for place, entry in enumerate(data.get(kind, [])):
            if entry["id"] in seen:
                yield (kind, place, "id"), f"{entry['id']} is used twice in {kind}", "give each its own id"
            seen.add(entry["id"])
    outputs = {entry["id"] for entry in data["outputs"]}
    for place, scheme in enumerate(data.get("schemes", [])):
        if scheme["id"] in outputs:
            message = f"{scheme['id']} names an output and a scheme"
            yield ("schemes", place, "id"), message, "rename the scheme, since checks name either"


def _inputs(data: dict[str, Any]) -> Iterator[Fault]:
    for place, entry in enumerate(data["inputs"]):
        path = ("inputs", place)
        low, high = entry["possible"]
        least, most = entry["usual"]
        if not low <= least < most <= high:
            yield (*path, "usual"), "the usual range is not inside the possible one", "order the numbers"
        yield from _other_units(path, "other_units", entry["unit"], entry.get("other_units", []))
        if entry.get("sided") and "sides" not in data:
            yield (*path, "sided"), "an input is sided and the sheet has no sides", "add `sides`"
    numbers = {entry["id"]: entry for entry in data["inputs"]}
    for place, relation in enumerate(data.get("relations", [])):
        for key in ("lower", "higher"):
            entry = numbers.get(relation[key])
            if entry is None or entry.get("sided") or "fields" in entry or "answers" in entry:
                message = f"{relation[key]} is no input with a single number"
                yield ("relations", place, key), message, "name an input without sides, fields or answers"


def _other_units(path: tuple[Any, ...], key: str, unit: str, others: list[str]) -> Iterator[Fault]:
    for other in others:
        if units.quantity(other) != units.quantity(unit):
            yield (*path, key), f"{other} does not measure the same as {unit}", "drop it, or mend the unit"


def _outputs(data: dict[str, Any], formulas: ModuleType) -> Iterator[Fault]:
    sided = {entry["id"]: bool(entry.get("sided")) for entry in data["inputs"]}
    for place, output in enumerate(data["outputs"]):
        path = ("outputs", place)
        formula = getattr(formulas, output["formula"], None)
        if not inspect.isfunction(formula):
            yield (*path, "formula"), f"formula.py has no {output['formula']}", "write it, or mend the name"
        elif set(inspect.signature(formula).parameters) != set(output["takes"]):
            yield (*path, "takes"), f"{output['formula']} takes other inputs", "name what the function takes"
        for name in output["takes"]:
            if name not in sided:
                yield (*path, "takes"), f"there is no input {name}", "take an input of this sheet"
        if any(sided.get(name) for name in output["takes"]) != bool(output.get("sided")):
            yield path, f"{output['id']} and its inputs do not agree on sides", "set or drop `sided = true`"
        also = [other["unit"] for other in output.get("also", [])]
        yield from _other_units(path, "also", output["unit"], also)
    for place, entry in enumerate(data["inputs"]):
        if not any(entry["id"] in output["takes"] for output in data["outputs"]):
            yield ("inputs", place), f"no output takes {entry['id']}", "take it in an output, or drop it"


def _schemes(data: dict[str, Any]) -> Iterator[Fault]:
    outputs = {output["id"] for output in data["outputs"]}
    every: set[str] = set()
    for place, scheme in enumerate(data.get("schemes", [])):
        path = ("schemes", place)
        for name in scheme["reads"]:
            if name not in outputs:
                yield (*path, "reads"), f"there is no output {name}", "read an output of this sheet"
        ids = [band["id"] for band in scheme["bands"]]
        if len(set(ids)) < len(ids):
            yield (*path, "bands"), "two bands share an id", "give each its own"
        every.update(ids)
        lows = [edge["low"] for edge in bands.edges(scheme)]
        if lows and lows[0] is not None:
            yield (*path, "bands"), "the first band has an edge", "drop it: the limits of the input close it"
        if None in lows[1:] or any(low >= high for low, high in pairwise(lows[1:])):
            yield (*path, "bands"), "the edges of the bands do not rise", "order the bands from low to high"
    for place, entry in enumerate(data["inputs"]):
        for option in entry.get("answers", []):
            if "band" in option and option["band"] not in every:
                message = f"no scheme has the band {option['band']}"
                yield ("inputs", place, "answers"), message, "name a band of a scheme"


def _checks(data: dict[str, Any]) -> Iterator[Fault]:
    examples = [check for check in data["checks"] if check.get("example")]
    if len(examples) != 1:
        yield ("checks",), f"{len(examples)} checks are marked as the example", "mark one: `example = true`"
