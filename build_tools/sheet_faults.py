"""Faults in a sheet that its schema cannot see: names that point nowhere, edges out of order."""

from __future__ import annotations

import importlib
from collections.abc import Iterator
from types import ModuleType
from typing import Any

from build_tools.loading import line_of
from build_tools.problems import Problem
from calculators import units


def faults(calculator: str, data: dict[str, Any], lines: dict[tuple[Any, ...], int]) -> list[Problem]:
    """Return the faults of one sheet. calculator: its id; data: the parsed TOML; lines: path to line."""
    try:
        formulas = importlib.import_module(f"calculators.{calculator}.formula")
    except ImportError as error:
        message = f"the formula of {calculator} cannot be imported: {error}"
        return [Problem(f"calculators/{calculator}/formula.py", 0, message, "write formula.py beside the sheet")]
    return [
        Problem(f"calculators/{calculator}/sheet.toml", line_of(lines, path), message, mend)
        for found in (_repeats(data), _inputs(data), _outputs(data, formulas), _schemes(data), _checks(data))
        for path, message, mend in found
    ]


Fault = tuple[tuple[Any, ...], str, str]


def _repeats(data: dict[str, Any]) -> Iterator[Fault]:
    for kind in ("sides", "inputs", "outputs", "schemes"):
        seen: set[str] = set()
        for place, entry in enumerate(data.get(kind, [])):
            if entry["id"] in seen:
                yield (kind, place, "id"), f"the id {entry['id']} is used twice in {kind}", "give each its own id"
            seen.add(entry["id"])
    clash = {entry["id"] for entry in data["outputs"]} & {entry["id"] for entry in data.get("schemes", [])}
    for name in sorted(clash):
        yield ("schemes",), f"{name} names an output and a scheme", "rename the scheme, since checks name either"


def _inputs(data: dict[str, Any]) -> Iterator[Fault]:
    for place, entry in enumerate(data["inputs"]):
        path = ("inputs", place)
        low, high = entry["possible"]
        least, most = entry["usual"]
        if not low <= least < most <= high:
            yield (*path, "usual"), "the usual range does not lie inside the possible one", "order the four numbers"
        for other in entry.get("other_units", []):
            if units.quantity(other) != units.quantity(entry["unit"]):
                yield (*path, "other_units"), f"{other} does not measure what {entry['unit']} does", "take it out"
        if entry.get("sided") and "sides" not in data:
            yield (*path, "sided"), "an input is sided and the sheet has no sides", "add `sides`"
    numbers = {entry["id"]: entry for entry in data["inputs"]}
    for place, relation in enumerate(data.get("relations", [])):
        for key in ("lower", "higher"):
            entry = numbers.get(relation[key])
            if entry is None or entry.get("sided") or "fields" in entry or "answers" in entry:
                yield (("relations", place, key), f"{relation[key]} is no input with a single number",
                       "name an input without sides, fields or answers")


def _outputs(data: dict[str, Any], formulas: ModuleType) -> Iterator[Fault]:
    sided = {entry["id"]: bool(entry.get("sided")) for entry in data["inputs"]}
    for place, output in enumerate(data["outputs"]):
        path = ("outputs", place)
        if not callable(getattr(formulas, output["formula"], None)):
            yield (*path, "formula"), f"formula.py has no function {output['formula']}", "write it, or mend the name"
        for name in output["takes"]:
            if name not in sided:
                yield (*path, "takes"), f"there is no input {name}", "take an input of this sheet"
        if any(sided.get(name) for name in output["takes"]) != bool(output.get("sided")):
            yield path, f"{output['id']} and its inputs do not agree on sides", "set or drop `sided = true`"
        for other in output.get("also", []):
            if units.quantity(other["unit"]) != units.quantity(output["unit"]):
                yield (*path, "also"), f"{other['unit']} does not measure what {output['unit']} does", "take it out"
    for name in sorted(sided):
        if not any(name in output["takes"] for output in data["outputs"]):
            yield ("inputs",), f"no output takes the input {name}", "take it in an output, or drop it"


def _schemes(data: dict[str, Any]) -> Iterator[Fault]:
    outputs = {output["id"] for output in data["outputs"]}
    deciding: set[str] = set()
    for place, scheme in enumerate(data.get("schemes", [])):
        path = ("schemes", place)
        for name in scheme["reads"]:
            if name not in outputs:
                yield (*path, "reads"), f"there is no output {name}", "read an output of this sheet"
        ids = [band["id"] for band in scheme["bands"]]
        if len(set(ids)) < len(ids):
            yield (*path, "bands"), "two bands share an id", "give each its own"
        deciding.update(ids)
        measured = [band for band in scheme["bands"] if not band.get("answer")]
        edges = [band.get("from", band.get("above")) for band in measured]
        if None in edges[1:] or any(low >= high for low, high in zip(edges[1:], edges[2:], strict=False)):
            yield (*path, "bands"), "the edges of the bands do not rise", "order the bands from low to high"
        if edges and edges[0] is not None:
            yield (*path, "bands"), "the first band is not open below", "drop its edge: the input's limits close it"
    for place, entry in enumerate(data["inputs"]):
        for option in entry.get("answers", []):
            if "band" in option and option["band"] not in deciding:
                yield ("inputs", place, "answers"), f"no scheme has the band {option['band']}", "name a band"


def _checks(data: dict[str, Any]) -> Iterator[Fault]:
    examples = [check for check in data["checks"] if check.get("example")]
    if len(examples) != 1:
        yield ("checks",), f"{len(examples)} checks are marked as the worked example", "mark one: `example = true`"
