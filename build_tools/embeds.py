"""A calculator as static HTML: what it asks, its formula, its bands, a worked example and its sources.

All of it reads without JavaScript. With it, the form becomes live and the empty result cards fill in: the
script only ever puts text into elements that stand here already. Sources are left as marks
(`[@key, place]`), which the page they land in numbers with its own.
"""
from __future__ import annotations

import json
from html import escape
from typing import TYPE_CHECKING, Any

from build_tools import proving
from build_tools.citations import mark_of
from build_tools.embedded_form import form_html
from build_tools.embedded_items import items_html
from build_tools.figures.result_drawing import result_drawing
from build_tools.figures.ruler import Band, ruler
from build_tools.loading import DRAFT
from build_tools.markup import section_of
from build_tools.sheets_for_door import sheet_for_door
from calculators import bands, door, form, units, wording
from calculators.numbers import plain
from calculators.wording import GRADES

if TYPE_CHECKING:
    from build_tools.handbook import Handbook

Data = dict[str, Any]

NOTES_IN_SIGHT = 2


def calculator_html(handbook: Handbook, calculator_id: str) -> str:
    """Return the HTML of one calculator, a <section> whose ids all begin with "calculator-" and its own id.

    Raises KeyError when there is no such calculator.
    """
    sheet = handbook.sheets[calculator_id]
    data = sheet.data
    prefix = section_of(calculator_id)
    return "\n".join(part for part in (
        f'<section class="calculator" id="{prefix}" data-calculator="{calculator_id}" '
        f'aria-labelledby="{prefix}-title">',
        f'<p class="calculator-title" id="{prefix}-title">Calculator: {escape(data["title"])}</p>',
        f'<h3 class="calculator-asks">{escape(data["asks"])}</h3>',
        f'<p class="calculator-intro">{escape(data["intro"])}</p>',
        _draft(data),
        _edition(data),
        *(_caution(caution) for caution in data.get("cautions", [])),
        form_html(data, prefix),
        _result(data, prefix),
        '<div class="calculator-static">',
        _part("How it is reckoned", _formulas(data)),
        _part("What each item counts", items_html(data)),
        _part("Limits and what they mean", "".join(_bands(data, scheme) for scheme in data.get("schemes", []))),
        _part("Worked example", _example(handbook, calculator_id, prefix)),
        _notes(data),
        "</div>",
        "</section>",
    ) if part)


def _part(title: str, content: str) -> str:
    """One part of the text. It stands open for a reader without scripts; the page script closes it."""
    return f"<details open><summary>{title}</summary>{content}</details>" if content else ""


def _cite(row: Data) -> str:
    return f'<span class="calculator-cite">{escape(mark_of(row), quote=False)}</span>'


def _draft(data: Data) -> str:
    """What keeps a calculator from being taken for a finished one, in the preview of those who write."""
    if data.get("status") != DRAFT:
        return ""
    return (
        '<p class="calculator-draft"><strong>Draft.</strong> Part of its table rests on memory, and nobody has held it '
        "against its source. It is seen here only: no site is built with it, and its checks are not counted.</p>"
    )


def _edition(data: Data) -> str:
    """Whose criteria these are, and of when."""
    if "edition" not in data:
        return ""
    edition = data["edition"]
    return f'<p class="calculator-edition">Criteria: {escape(edition["text"])} {_cite(edition)}</p>'


def _caution(caution: Data) -> str:
    grade = caution["grade"]
    return (
        f'<div class="admonition {grade}"><p class="admonition-title"><span class="grade">{GRADES[grade]}</span>: '
        f'{escape(caution["title"])}</p>'
        f'<p>{escape(caution["text"])} {_cite(caution)}</p></div>'
    )


def _sides(data: Data, output: Data) -> list[Data | None]:
    return list(data["sides"]) if output.get("sided") else [None]


def _label(output: Data, side: Data | None) -> str:
    label = str(output["label"])
    return f"{side['label']}, {label[:1].lower()}{label[1:]}" if side else label


def _result(data: Data, prefix: str) -> str:
    """The place of the result, there from the start so that a screen reader hears what comes into it."""
    slots = [(output, side) for output in data["outputs"] for side in _sides(data, output)]
    cards = [_card(data, prefix, output, side, first=not place) for place, (output, side) in enumerate(slots)]
    return "\n".join(part for part in [
        f'<div class="calculator-result" role="region" aria-label="Result: {escape(data["title"])}">',
        '<p class="calculator-old" hidden>Old result: the entries have changed since.</p>',
        '<p class="calculator-spoken aside-words" role="status" aria-atomic="true"></p>',
        '<div class="calculator-dispute" hidden></div>',
        '<ul class="calculator-cautions" hidden></ul>',
        '<ul class="calculator-glance" hidden></ul>' if len(cards) > 2 else "",
        *cards,
        '<ul class="calculator-remarks" hidden></ul>',
        '<div class="calculator-copy" hidden><button type="button" data-act="copy">Copy as text</button>'
        '<button type="button" data-act="link">Copy a link with these entries</button>'
        '<p class="calculator-copied" role="status"></p>'
        f'<textarea readonly hidden rows="8" aria-label="Result as text: {escape(data["title"])}"></textarea></div>',
        '<p class="calculator-engine"></p>',
        '<button type="button" class="calculator-again" data-act="again" hidden>Try again</button>',
        "</div>",
    ] if part)


def _card(data: Data, prefix: str, output: Data, side: Data | None, *, first: bool) -> str:
    name = f"{prefix}-{output['id'].replace('_', '-')}" + (f"-{side['id']}" if side else "")
    side_id = side["id"] if side else ""
    return "\n".join(part for part in (
        f'<article class="calculator-card" id="{name}" data-output="{output["id"]}" data-side="{side_id}" '
        f'aria-labelledby="{name}-label" hidden>',
        f'<h4 class="calculator-label" id="{name}-label">{escape(_label(output, side))}</h4>',
        '<p class="calculator-value"></p>',
        _rulers(data, output, f"{name}-ruler", _label(output, side)),
        '<figure class="calculator-drawing" hidden></figure>' if "drawing" in output else "",
        '<ul class="calculator-found"></ul>',
        '<p class="calculator-near" hidden></p>',
        f'<p class="calculator-uncertainty" hidden><span></span> {_cite(output["uncertainty"])}</p>'
        if "uncertainty" in output else "",
        f'<details class="calculator-working"{" open" if first else ""}><summary>Working</summary><ol></ol>'
        f"<p>Formula: {_cite(output)}</p></details>",
        "</article>",
    ) if part)


def _rulers(data: Data, output: Data, prefix: str, label: str) -> str:
    """The rulers of an output. Where limits hold for some people only there is one for each, and the page shows the
    one whose limits were used."""
    if "ruler" not in output:
        return ""
    schemes = _drawn_schemes(data, output)
    if not schemes:
        return f'<div class="calculator-ruler">{_ruler(output, None, prefix, label, None)}</div>'
    return "".join(
        f'<div class="calculator-ruler" data-scheme="{scheme["id"]}"{" hidden" if len(schemes) > 1 else ""}>'
        f"{_ruler(output, scheme, prefix + '-' + scheme['id'], label, None)}{_ruler_of(data, output, scheme)}</div>"
        for scheme in schemes
    )


def _drawn_schemes(data: Data, output: Data) -> list[Data]:
    """The schemes on an output's rulers: the first that reads it, or the first for each sort of person."""
    schemes = [one for one in _schemes_of(data, output) if "bands" in one and not bands.names_numbers(one)]
    if not schemes or "applies" not in schemes[0]:
        return schemes[:1]
    firsts: dict[str, Data] = {}
    for scheme in schemes:
        firsts.setdefault(json.dumps(scheme.get("applies")), scheme)
    return list(firsts.values())


def _ruler(output: Data, scheme: Data | None, prefix: str, label: str, marker: float | None) -> str:
    low, high = output["ruler"]
    drawn = [Band(band["label"], band["low"], band["high"]) for band in (bands.edges(scheme) if scheme else [])]
    symbol = units.symbol(output["unit"])
    about = f"A scale from {plain(low)} to {plain(high)} {symbol}".rstrip()
    if scheme:
        about += f", with the bands of {scheme['name']}: " + "; ".join(band.label for band in drawn)
    return ruler(low, high, symbol, prefix=prefix, title=label, description=about + ".", bands=drawn, marker=marker)


def _ruler_of(data: Data, output: Data, scheme: Data) -> str:
    """Say whose limits are drawn, where there are others."""
    if len(_schemes_of(data, output)) < 2:
        return ""
    return f'<p class="calculator-ruler-of">On the ruler: {escape(wording.scheme_name(scheme))}</p>'


def _schemes_of(data: Data, output: Data) -> list[Data]:
    return [scheme for scheme in data.get("schemes", []) if output["id"] in scheme["reads"]]


def _formulas(data: Data) -> str:
    rows = [
        f'<dt>{escape(output["label"])}</dt>'
        f'<dd><p class="calculator-equation">{escape(output["equation"])}</p>'
        f'<p>{escape(output["when"])} {_cite(output)}</p></dd>'
        for output in data["outputs"]
    ]
    return f'<dl class="calculator-formulas">{"".join(rows)}</dl>'


def _bands(data: Data, scheme: Data) -> str:
    """The bands of a scheme as a table of two columns, which fits the narrowest phone."""
    output = next(output for output in data["outputs"] if output["id"] in scheme["reads"])
    every = scheme["rules"] if "rules" in scheme else scheme["bands"]
    measured = every if "rules" in scheme else bands.measured(scheme)
    ranges = dict(zip([band["id"] for band in measured], bands.ranges(scheme, output), strict=True))
    rows = []
    for band in every:
        where = ranges.get(band["id"], "Not a number")
        advice = "".join(f"<p>{escape(band[part])}</p>" for part in ("now", "then") if band.get(part))
        own = f" {_cite(band)}" if "source" in band else ""
        rows.append(
            f'<tr data-scheme="{scheme["id"]}" data-band="{band["id"]}"><th scope="row">{escape(where)}</th>'
            f'<td><p><strong>{escape(band["label"])}</strong>{own}</p>{advice}</td></tr>'
        )
    return (
        f'<table class="calculator-bands"><caption>{escape(wording.scheme_name(scheme))} {_cite(scheme)}'
        f'{_superseded(scheme)}</caption>'
        '<thead><tr><th scope="col">Result</th><th scope="col">What it means</th></tr></thead>'
        f'<tbody>{"".join(rows)}</tbody></table>'
    )


def _superseded(scheme: Data) -> str:
    """What has taken the place of a scheme, if anything."""
    return f'<br>{escape(scheme["superseded"])}' if "superseded" in scheme else ""


def _example(handbook: Handbook, calculator_id: str, prefix: str) -> str:
    """The example of the sheet, answered by the calculator itself, so that it can never be wrong on its own."""
    data = handbook.sheets[calculator_id].data
    check = next((check for check in data["checks"] if check.get("example")), None)
    if check is None:
        return ""
    door.load(json.dumps(sheet_for_door(handbook, calculator_id)))
    answer = proving.answered(calculator_id, data, check)
    outputs = {output["id"]: output for output in data["outputs"]}
    lines: list[str] = []
    for result in answer["results"]:
        steps = "".join(f"<li>{escape(line)}</li>" for line in result["working"])
        found = "".join(f"<p>{escape(band['scheme'])}: {escape(band['label'])}.</p>" for band in result["bands"])
        drawn = _example_ruler(data, outputs[result["output"]], result, f"{prefix}-example-{len(lines)}")
        drawn += _example_drawing(result)
        lines.append(f"<p><strong>{escape(result['sentence'])}</strong></p><ol>{steps}</ol>{found}{drawn}")
    given = "".join(f"<li>{escape(label)}: {escape(text)}</li>" for label, text in _entries(data, check))
    origin = f" {_cite(check)}" if check.get("source") else ""
    if check["checks"] != "published":
        origin = " made up to show the reckoning" + (f", with what is printed in{origin}" if origin else "")
    return (
        f"<ul>{given}</ul>{''.join(lines)}<p>Figures of the example:{origin}</p>"
    )


def _example_ruler(data: Data, output: Data, result: Data, prefix: str) -> str:
    """The ruler of one result of the example, with the limits that it was held against."""
    used = {band["scheme_id"] for band in result["bands"]}
    scheme = next((one for one in _drawn_schemes(data, output) if one["id"] in used), None)
    # Without limits a ruler tells little: the example has one if its sheet knows no limits at all.
    if "ruler" not in output or result["raw"] is None or (scheme is None and data.get("schemes")):
        return ""
    side = next((side for side in data.get("sides", []) if side["id"] == result["side"]), None)
    drawn = _ruler(output, scheme, prefix, _label(output, side), result["raw"])
    return drawn + (_ruler_of(data, output, scheme) if scheme else "")


def _example_drawing(result: Data) -> str:
    """The drawing of one result of the example, if it has one."""
    if not result["drawing"]:
        return ""
    return (
        f'<figure class="calculator-drawing">{result_drawing(result["drawing"], result["label"])}'
        f'<figcaption>{escape(result["drawing"]["says"])}</figcaption></figure>'
    )


def _entries(data: Data, check: Data) -> list[tuple[str, str]]:
    """What the example enters, as (label, text with unit)."""
    typed = proving.typed(data, check["given"])
    found = []
    for field in form.fields(data):
        text = typed.get(field["field"])
        if text is None:
            continue
        entry = field["input"]
        unit = check.get("units", {}).get(entry["id"], entry.get("unit", ""))
        options = entry.get("choices", entry.get("answers", []))
        answer = next((one["label"] for one in options if one["id"] == text), None)
        if "columns" in entry:
            answer = "; ".join(text.split("\n"))
        found.append((field["label"], answer or units.with_unit(text, unit)))
    return found


def _notes(data: Data) -> str:
    """The notes of a sheet, which come in the order of their weight: the first two in sight, the rest folded."""
    rows = [
        f'<li><span class="calculator-note">{escape(note["text"])}</span> {_cite(note)}</li>'
        for note in data.get("notes", [])
    ]
    in_sight, rest = "".join(rows[:NOTES_IN_SIGHT]), "".join(rows[NOTES_IN_SIGHT:])
    shown = f'<ul class="calculator-notes">{in_sight}</ul>' if in_sight else ""
    return shown + _part("Bear in mind", f'<ul class="calculator-notes">{rest}</ul>' if rest else "")
