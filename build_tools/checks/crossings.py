"""Ids: every name that one page or row gives for another must exist, and both sides must agree."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Any

from build_tools.citations import VALUE
from build_tools.problems import Problem
from build_tools.prose import texts

if TYPE_CHECKING:
    from build_tools.handbook import Handbook, Page

# Each list of ids in front matter, and what it names.
LISTS = {
    "findings": "finding",
    "steps": "step",
    "measures": "calculator",
    "calculators": "calculator",
    "values": "value",
    "red_flags": "red flag",
}
PLACES = {
    "finding": "content/findings/",
    "step": "content/examination/",
    "condition": "content/conditions/",
    "calculator": "calculators/",
    "value": "content/values/",
    "red flag": "content/red_flags.toml",
    "figure": "build_tools/figures/",
    "laboratory": "build_tools/laboratories.py",
    "listing": "build_tools/listings.py",
    "sound": "calculators/models/heart_sounds.toml",
    "table": "content/values/",
}
# What may stand after ``` to put something in its place.
EMBEDS = {
    "calculator": "calculator",
    "figure": "figure",
    "laboratory": "laboratory",
    "red-flag": "red flag",
    "listing": "listing",
    "sound": "sound",
    "values-table": "table",
}


def known(handbook: Handbook, what: str) -> Iterable[str]:
    """Return the ids of everything of one sort."""
    match what:
        case "calculator":
            return handbook.sheets
        case "value":
            return {**handbook.values, **handbook.tables}
        case "red flag":
            return handbook.red_flags
        case "figure":
            from build_tools import figures

            return figures.names()
        case "laboratory":
            from build_tools.laboratories import LABORATORIES

            return LABORATORIES
        case "sound":
            from build_tools import listening_room

            return listening_room.scenes(handbook)
        case "listing":
            from build_tools.listings import LISTINGS

            return LISTINGS
        case "table":
            return handbook.tables
        case _:
            return [page.slug for page in handbook.of_kind(what)]


class _Ids:
    """The known ids of each sort, gathered once."""

    def __init__(self, handbook: Handbook) -> None:
        self.handbook = handbook
        self.sets: dict[str, set[str]] = {}

    def unknown(self, what: str, name: Any, file: str, line: int) -> Iterator[Problem]:
        if what not in self.sets:
            self.sets[what] = set(known(self.handbook, what))
        if isinstance(name, str) and name not in self.sets[what]:
            close = difflib.get_close_matches(name, sorted(self.sets[what]), 1)
            yield Problem(
                file,
                line,
                f'no {what} is called "{name}"',
                f'did you mean "{close[0]}"? Or add it under {PLACES[what]}'
                if close
                else f"correct the name, or add it under {PLACES[what]}",
            )


def check(handbook: Handbook) -> Iterator[Problem]:
    """Yield unknown ids, steps and findings that do not name each other, and red flags that no page uses."""
    ids = _Ids(handbook)
    shown: set[str] = set()
    for page in handbook.pages.values():
        for key, what in LISTS.items():
            for index, name in enumerate(page.listed(key)):
                yield from ids.unknown(what, name, page.file, page.line(key, index))
        for index, entry in enumerate(page.listed("points_to")):
            if isinstance(entry, dict):
                yield from ids.unknown(
                    "condition", entry.get("condition"), page.file, page.line("points_to", index, "condition")
                )
        yield from ids.unknown("red flag", page.meta.get("red_flag"), page.file, page.line("red_flag"))
        shown.update(str(name) for name in [*page.listed("red_flags"), page.meta.get("red_flag")] if name)
        yield from _quoted(page, ids)
        for line, kind, name in page.embeds:
            if kind in EMBEDS:
                yield from ids.unknown(EMBEDS[kind], name, page.file, line)
            elif kind != "text":
                yield Problem(
                    page.file,
                    line,
                    f"nothing is made from a block ```{kind}",
                    f"use one of {', '.join(EMBEDS)}, or text",
                )
            if kind == "red-flag":
                shown.add(name)
    yield from _both_ways(handbook)
    yield from _rows(handbook, ids)
    for name in handbook.captions:
        row = handbook.rows[("captions", name)]
        yield from ids.unknown("figure", name, row.file, row.line("id"))
    for name in handbook.red_flags:
        if name not in shown:
            row = handbook.rows[("red_flags", name)]
            yield Problem(
                row.file,
                row.line("id"),
                f'no page shows the red flag "{name}"',
                "name it under red_flags of a step or condition, or remove it",
            )


def _quoted(page: Page, ids: _Ids) -> Iterator[Problem]:
    quoted = [(page.line(*path), text) for path, text in texts(page.meta)]
    quoted += [(line.number, line.text) for line in page.prose if line.form == "text"]
    for line, text in quoted:
        for found in VALUE.finditer(text):
            name = found.group(1)
            if name in ids.handbook.tables:
                yield Problem(
                    page.file,
                    line,
                    f'"{name}" is a table, which a sentence cannot quote',
                    f"put it in a block ```values-table with {name} in it",
                )
            else:
                yield from ids.unknown("value", name, page.file, line)


def _both_ways(handbook: Handbook) -> Iterator[Problem]:
    for step in handbook.of_kind("step"):
        for index, name in enumerate(step.listed("findings")):
            finding = handbook.page("finding", name)
            if finding and step.slug not in finding.listed("steps"):
                yield Problem(
                    step.file,
                    step.line("findings", index),
                    f'the step lists "{name}", but that finding does not list the step',
                    f"add {step.slug} to steps in {finding.file}, or take the finding out here",
                )
    for finding in handbook.of_kind("finding"):
        for index, name in enumerate(finding.listed("steps")):
            owner = handbook.page("step", name)
            if owner and finding.slug not in owner.listed("findings"):
                yield Problem(
                    finding.file,
                    finding.line("steps", index),
                    f'the finding lists the step "{name}", but that step does not list the finding',
                    f"add {finding.slug} to findings in {owner.file}, or take the step out here",
                )
    for page in handbook.of_kind("calculators"):
        shown = {name for _, kind, name in page.embeds if kind == "calculator"}
        for index, name in enumerate(page.listed("calculators")):
            if name not in shown:
                yield Problem(
                    page.file,
                    page.line("calculators", index),
                    f'the page lists "{name}" but does not show it',
                    f"put it in a block ```calculator with {name} in it",
                )
    for name, sheet in handbook.sheets.items():
        if not sheet.is_draft and not handbook.pages_of_calculator(name):
            yield Problem(
                sheet.file,
                1,
                f'no page of calculators lists "{name}"',
                "add it to calculators of a page in content/calculators/",
            )


def _rows(handbook: Handbook, ids: _Ids) -> Iterator[Problem]:
    for group, rows in (("values", handbook.values), ("tables", handbook.tables)):
        for name, row in rows.items():
            place = handbook.rows[(group, name)]
            yield from ids.unknown("step", row.get("step"), place.file, place.line("step"))
            yield from ids.unknown("calculator", row.get("calculator"), place.file, place.line("calculator"))
            if isinstance(row.get("from"), str):
                yield from _from(handbook, row["from"], place.file, place.line("from"))


def _from(handbook: Handbook, reference: str, file: str, line: int) -> Iterator[Problem]:
    """Check a row that takes its limits from a calculator: calculator/scheme/band."""
    calculator, _, rest = reference.partition("/")
    scheme_name, _, band_id = rest.rpartition("/")
    sheet = handbook.sheets.get(calculator)
    schemes = sheet.data.get("schemes", []) if sheet else []
    scheme = next((each for each in schemes if scheme_name in (each.get("name"), each.get("id"))), None)
    bands = [band.get("id") for band in scheme.get("bands", [])] if scheme else []
    if band_id not in bands:
        choices = bands or [each.get("name") for each in schemes] or sorted(handbook.sheets)
        yield Problem(
            file,
            line,
            f'no band is found at "{reference}"',
            f"write calculator/scheme/band; here there are {', '.join(map(str, choices))}",
        )
