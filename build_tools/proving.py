"""Running the checks that stand in the sheets: one miss stops the build."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Protocol

from build_tools.loading import DRAFT, line_of
from build_tools.problems import Problem
from build_tools.sheet_faults import faults
from calculators import door, units


class Sheet(Protocol):
    """What proving needs of a sheet: its id, its parsed TOML, and the line of each path in it."""

    id: str
    path: Path
    data: dict[str, Any]
    lines: dict[tuple[Any, ...], int]


# An expectation "OUTPUT says" names words that the result must have, "OUTPUT omits" words that it must not have.
SAYS = " says"
OMITS = " omits"
# "OUTPUT draws" names words or shapes that its drawing must hold.
DRAWS = " draws"


@dataclass(frozen=True)
class Proof:
    """How many checks ran, how many of each kind, and the misses."""

    count: int
    by_kind: dict[str, int]
    misses: list[Problem]


def prove(sheets: Mapping[str, Sheet]) -> Proof:
    """Run every check of every sheet but drafts through the door. Misses carry the file and line of the check."""
    by_kind: dict[str, int] = {}
    misses: list[Problem] = []
    for calculator in sorted(sheets):
        sheet = sheets[calculator]
        if sheet.data.get("status") == DRAFT:
            continue
        unsound = faults(calculator, sheet.data, sheet.lines)
        misses += unsound
        if unsound:
            continue
        door.load(json.dumps({**sheet.data, "id": calculator}))
        for place, check in enumerate(sheet.data["checks"]):
            by_kind[check["checks"]] = by_kind.get(check["checks"], 0) + 1
            for message in _run(calculator, sheet.data, check):
                misses.append(Problem(
                    f"calculators/{calculator}/sheet.toml", line_of(sheet.lines, ("checks", place)), message,
                    "hold the check against its source, then the formula and the sheet against the check"))
    return Proof(sum(by_kind.values()), by_kind, misses)


def _run(calculator: str, data: dict[str, Any], check: dict[str, Any]) -> list[str]:
    try:
        return list(missed(data, answered(calculator, data, check), check))
    except KeyError as error:
        return [f"the sheet names {error}, which the formula does not return"]
    except ValueError as error:
        return [str(error)]


def answered(calculator: str, data: dict[str, Any], check: dict[str, Any]) -> dict[str, Any]:
    """Answer one check through the door, where the sheet must be loaded; returns the door's answer."""
    answer: dict[str, Any] = json.loads(door.answer(json.dumps(request_of(calculator, data, check))))
    return answer


def request_of(calculator: str, data: dict[str, Any], check: dict[str, Any]) -> dict[str, Any]:
    """Give what a check asks of the door."""
    return {
        "calculator": calculator,
        "answers": typed(data, check["given"]),
        "units": check.get("units", {}),
        "complete": True,
    }


def typed(data: dict[str, Any], given: dict[str, Any]) -> dict[str, str]:
    """Flatten what a check gives into the fields of a request: {"ankle_mmhg.right.1": "181"}."""
    return dict(_flat(data, given))


def _flat(data: dict[str, Any], given: dict[str, Any]) -> Iterator[tuple[str, str]]:
    sided = {entry["id"] for entry in data.get("inputs", []) if entry.get("sided")}
    for name, value in given.items():
        by_side = value.items() if name in sided and isinstance(value, dict) else [(None, value)]
        for side, entered in by_side:
            stem = name if side is None else f"{name}.{side}"
            if isinstance(entered, list):
                yield from ((f"{stem}.{index}", _text(one)) for index, one in enumerate(entered, 1))
            else:
                yield stem, _text(entered)


def _text(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return value if isinstance(value, str) else getattr(value, "text", None) or repr(value)


def missed(data: dict[str, Any], answer: dict[str, Any], check: dict[str, Any]) -> Iterator[str]:
    """Say each way in which an answer is not what its check expects."""
    if "refused" in check:
        kinds = [problem["kind"] for problem in answer["problems"]]
        if check["refused"] not in kinds:
            yield f"expected a refusal ({check['refused']}), got {answer['state']} {kinds}"
        return
    if "cautioned" in check:
        fields = [caution["field"] or "" for caution in answer["cautions"]]
        if fields != check["cautioned"]:
            yield f"cautions on {fields}, expected on {check['cautioned']}"
    if answer["state"] != "answer":
        said = "; ".join(problem["message"] for problem in answer["problems"])
        yield f"expected an answer, got {answer['state']}: {said}"
        return
    for name, expected in check.get("expect", {}).items():
        one = not isinstance(expected, dict) or "number" in expected
        by_side = [(None, expected)] if one else expected.items()
        for side, wanted in by_side:
            if name.endswith((SAYS, OMITS)):
                yield from _unsaid(answer, name, side, wanted)
                continue
            if name.endswith(DRAWS):
                yield from _undrawn(answer, name, wanted)
                continue
            got = list(_found(data, answer, name, side))
            where = name if side is None else f"{name} ({side})"
            if not got and wanted != "none":
                yield f"there is no result {where}"
            for shown, raw in got:
                if not _agree(wanted, shown, raw):
                    yield f"{where} is {shown}, expected {wanted}"


def _unsaid(answer: dict[str, Any], name: str, side: str | None, wanted: str) -> Iterator[str]:
    """Say that a result lacks words it should have, or has words it should not, in its sentence, working, error
    or nearness."""
    output = name.removesuffix(SAYS).removesuffix(OMITS)
    for result in answer["results"]:
        if result["output"] == output and result["side"] == side:
            said = " ".join([result["sentence"], *result["working"], result["uncertainty"], *result["near"]])
            if (wanted in said) != name.endswith(SAYS):
                yield f"{name} “{wanted}” does not hold of: {said}"
            return
    yield f"there is no result {output}"


def _undrawn(answer: dict[str, Any], name: str, wanted: str) -> Iterator[str]:
    """Say that the drawing of a result lacks words or shapes that it should have."""
    output = name.removesuffix(DRAWS)
    drawing = next((one["drawing"] for one in answer["results"] if one["output"] == output), None)
    if drawing is None:
        yield f"{output} has no drawing"
    elif wanted not in (shown := drawing_text(drawing)):
        yield f"{name} “{wanted}” does not hold of: {shown}"


def drawing_text(drawing: dict[str, Any]) -> str:
    """Write a drawing as text: "fit 66,200 302,40; seen 66,200 3; ...", then what it says."""
    shapes = [f"{kind} {x},{y} {end_x},{end_y}" for kind, x, y, end_x, end_y in drawing["lines"]]
    shapes += [f"{kind} {x},{y} {radius}" for kind, x, y, radius in drawing["points"]]
    return "; ".join([*shapes, drawing["says"]])


def _found(
    data: dict[str, Any], answer: dict[str, Any], name: str, side: str | None
) -> Iterator[tuple[str, float | None]]:
    """Find what an expectation names: an output, "output in unit", or a scheme's band."""
    schemes = {scheme["id"] for scheme in data.get("schemes", [])}
    output, _, unit = name.partition(" in ")
    for result in answer["results"]:
        if result["side"] != side:
            continue
        if name in schemes:
            yield from ((band["band"], None) for band in result["bands"] if band["scheme_id"] == name)
        elif result["output"] == output and unit:
            yield from ((also["value"], None) for also in result["also"] if also["unit"] == units.symbol(unit))
        elif result["output"] == output:
            empty = "answer" if result["bands"] else "unknown"
            yield result["value"] or empty, result["raw"]


def _agree(wanted: Any, shown: str, raw: float | None) -> bool:
    if isinstance(wanted, dict):
        return raw is not None and abs(raw - wanted["number"]) <= wanted["within"]
    return bool(shown == wanted.replace("-", "−") or shown == wanted)
