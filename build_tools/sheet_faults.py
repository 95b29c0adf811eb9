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
from calculators import bands, form, scores, units

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
        for found in (
            _repeats(data), _inputs(data), _items(data, formulas), _refusals(data, formulas),
            _outputs(data, formulas), _schemes(data), _checks(data),
        )
        for path, message, mend in found
    ]


def _repeats(data: dict[str, Any]) -> Iterator[Fault]:
    for kind in ("sides", "inputs", "items", "outputs", "schemes"):
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
    for place, entry in enumerate(data.get("inputs", [])):
        path = ("inputs", place)
        if "choices" in entry:
            continue
        if "columns" in entry:
            for index, column in enumerate(entry["columns"]):
                if column["possible"][0] >= column["possible"][1]:
                    where = (*path, "columns", index, "possible")
                    yield where, "what is possible in a column has no room", "order the numbers"
            continue
        yield from _limits(path, entry)
        yield from _other_units(path, "other_units", entry["unit"], entry.get("other_units", []))
        if entry.get("sided") and "sides" not in data:
            yield (*path, "sided"), "an input is sided and the sheet has no sides", "add `sides`"
    numbers = {entry["id"]: entry for entry in data.get("inputs", [])}
    for place, relation in enumerate(data.get("relations", [])):
        for key in ("lower", "higher"):
            entry = numbers.get(relation[key])
            if entry is None or entry.get("sided") or {"answers", "choices", "columns"} & entry.keys():
                message = f"{relation[key]} is no input with numbers alone"
                yield ("relations", place, key), message, "name an input without sides, choices, columns or answers"
        lower, higher = (numbers.get(relation[key], {}) for key in ("lower", "higher"))
        if len(lower.get("fields", [])) != len(higher.get("fields", [])):
            message = f"{relation['lower']} and {relation['higher']} have not as many fields"
            yield ("relations", place), message, "compare like with like"
    rows: dict[str, tuple[Any, Any]] = {}
    for place, entry in enumerate(data.get("inputs", [])):
        if "row" in entry:
            like = (entry["fields"], entry["least"])
            if rows.setdefault(entry["row"], like) != like:
                message = f"{entry['id']} has other fields than the rest of its row"
                yield ("inputs", place, "fields"), message, "give all of a row the same fields and the same least"


def _items(data: dict[str, Any], formulas: ModuleType) -> Iterator[Fault]:
    inputs = {entry["id"] for entry in data.get("inputs", [])}
    counted = {tally for output in data["outputs"] for tally in output.get("tallies", [])}
    for place, item in enumerate(data.get("items", [])):
        path = ("items", place)
        if item["id"] in inputs:
            yield (*path, "id"), f"{item['id']} names an input and an item", "rename one of them"
        if not counted.issuperset(scores.tallies_of(item)):
            yield (*path, "id"), f"no output counts the tally of {item['id']}", "name it in `tallies` of an output"
        if "formula" in item:
            known = inputs | {other["id"] for other in data["items"]}
            if not inspect.isfunction(getattr(formulas, item["formula"], None)):
                yield (*path, "formula"), f"formula.py has no {item['formula']}", "write it, or mend the name"
            for name in item["takes"]:
                if name not in known:
                    yield (*path, "takes"), f"there is no input {name}", "take an input or item of this sheet"
        if "unit" in item:
            yield from _limits(path, item)
            first, *steps = [step.get("from", step.get("above")) for step in item["points"]]
            edges = steps if first is None else [first, *steps]
            if None in edges or any(low >= high for low, high in pairwise(edges)):
                yield (*path, "points"), f"the steps of {item['id']} do not rise", "order them from low to high"


def _refusals(data: dict[str, Any], formulas: ModuleType) -> Iterator[Fault]:
    inputs = {entry["id"] for entry in data.get("inputs", []) if not entry.get("sided") and "fields" not in entry}
    for place, refusal in enumerate(data.get("refusals", [])):
        path = ("refusals", place)
        formula = getattr(formulas, refusal["formula"], None)
        if not inspect.isfunction(formula):
            yield (*path, "formula"), f"formula.py has no {refusal['formula']}", "write it, or mend the name"
        elif set(inspect.signature(formula).parameters) != set(refusal["takes"]):
            yield (*path, "takes"), f"{refusal['formula']} takes other inputs", "name what the function takes"
        for name in refusal["takes"]:
            if name not in inputs:
                yield (*path, "takes"), f"there is no input {name} with one field", "take an input of this sheet"


def _limits(path: tuple[Any, ...], entry: dict[str, Any]) -> Iterator[Fault]:
    low, high = entry["possible"]
    least, most = entry["usual"]
    if not low <= least < most <= high:
        yield (*path, "usual"), "the usual range is not inside the possible one", "order the numbers"


def _other_units(path: tuple[Any, ...], key: str, unit: str, others: list[str]) -> Iterator[Fault]:
    for other in others:
        if units.quantity(other) != units.quantity(unit):
            yield (*path, key), f"{other} does not measure the same as {unit}", "drop it, or mend the unit"


def _outputs(data: dict[str, Any], formulas: ModuleType) -> Iterator[Fault]:
    sided = {entry["id"]: bool(entry.get("sided")) for entry in data.get("inputs", [])}
    for place, output in enumerate(data["outputs"]):
        path = ("outputs", place)
        if "tallies" in output:
            if not scores.items_of({"items": data.get("items", [])}, output):
                yield (*path, "tallies"), "no item counts towards it", "write items, or mend the tallies"
            continue
        if not isinstance(output["shows"], str) and "value" not in output:
            yield (*path, "value"), "several numbers are shown in no order", 'add `value`: "{systolic}/{diastolic}"'
        formula = getattr(formulas, output["formula"], None)
        if not inspect.isfunction(formula):
            yield (*path, "formula"), f"formula.py has no {output['formula']}", "write it, or mend the name"
        elif set(inspect.signature(formula).parameters) != set(output["takes"]):
            yield (*path, "takes"), f"{output['formula']} takes other inputs", "name what the function takes"
        if "drawing" in output:
            draws = getattr(formulas, output["drawing"]["formula"], None)
            if not inspect.isfunction(draws) or set(inspect.signature(draws).parameters) != set(output["takes"]):
                message = f"{output['drawing']['formula']} is no function of what {output['id']} takes"
                yield (*path, "drawing"), message, "write it in formula.py, with the inputs of the output"
        for name in output["takes"]:
            if name not in sided:
                yield (*path, "takes"), f"there is no input {name}", "take an input of this sheet"
        if any(sided.get(name) for name in output["takes"]) != bool(output.get("sided")):
            yield path, f"{output['id']} and its inputs do not agree on sides", "set or drop `sided = true`"
        also = [other["unit"] for other in output.get("also", [])]
        yield from _other_units(path, "also", output["unit"], also)
    taken = {name for row in (*data["outputs"], *data.get("items", [])) for name in row.get("takes", [])}
    taken |= {wanted["input"] for scheme in data.get("schemes", []) for wanted in scheme.get("applies", [])}
    for place, entry in enumerate(data.get("inputs", [])):
        gate = any("refuses" in option or "warns" in option for option in entry.get("choices", []))
        if entry["id"] not in taken and not gate:
            yield ("inputs", place), f"no output takes {entry['id']}", "take it in an output, or drop it"


def _schemes(data: dict[str, Any]) -> Iterator[Fault]:
    outputs = {output["id"] for output in data["outputs"]}
    every: set[str] = set()
    for place, scheme in enumerate(data.get("schemes", [])):
        path = ("schemes", place)
        for name in scheme["reads"]:
            if name not in outputs:
                yield (*path, "reads"), f"there is no output {name}", "read an output of this sheet"
        ids = [band["id"] for band in scheme.get("bands", scheme.get("rules"))]
        if len(set(ids)) < len(ids):
            yield (*path, "bands"), "two bands share an id", "give each its own"
        every.update(ids)
        yield from _applies(path, scheme, data)
        if "rules" in scheme:
            if "any" in scheme["rules"][-1] or any("any" not in rule for rule in scheme["rules"][:-1]):
                message = "the last rule, and no other, holds without a count"
                yield (*path, "rules"), message, "order the rules from the most to the least"
            continue
        lows = [edge["low"] for edge in bands.edges(scheme)]
        if lows and lows[0] is not None:
            yield (*path, "bands"), "the first band has an edge", "drop it: the limits of the input close it"
        if None in lows[1:] or any(_falls(low, high) for low, high in pairwise(lows[1:])):
            yield (*path, "bands"), "the edges of the bands do not rise", "order the bands from low to high"
    for place, entry in enumerate(data.get("inputs", [])):
        for option in entry.get("answers", []):
            if "band" in option and option["band"] not in every:
                message = f"no scheme has the band {option['band']}"
                yield ("inputs", place, "answers"), message, "name a band of a scheme"


def _falls(low: Any, high: Any) -> bool:
    """Whether the next edge is no higher, or, where edges name several numbers, lower in any of them."""
    if isinstance(low, dict) and isinstance(high, dict):
        return low == high or any(low[name] > high[name] for name in low.keys() & high.keys())
    return isinstance(low, dict) or isinstance(high, dict) or bool(low >= high)


def _applies(path: tuple[Any, ...], scheme: dict[str, Any], data: dict[str, Any]) -> Iterator[Fault]:
    for wanted in scheme.get("applies", []):
        entry: dict[str, Any] = next((one for one in form.entries(data) if one["id"] == wanted["input"]), {})
        known = {option["id"] for option in entry.get("choices", [])}
        if not known.issuperset(wanted["is"]):
            yield (*path, "applies"), "it applies to an answer that there is not", "name a choice and its answers"


def _checks(data: dict[str, Any]) -> Iterator[Fault]:
    examples = [check for check in data["checks"] if check.get("example")]
    if len(examples) != 1:
        yield ("checks",), f"{len(examples)} checks are marked as the example", "mark one: `example = true`"
