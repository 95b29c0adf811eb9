"""The form of a calculator: one field for each number, a choice of units, and answers that are no number."""
from __future__ import annotations

from html import escape
from itertools import groupby
from typing import Any

from calculators import form, units

Data = dict[str, Any]

NUMBER = "a number, as typed above"
# A question with more answers than this is a list to choose from: a phone's screen holds about as many.
MOST_TAPS = 9


def form_html(data: Data, prefix: str) -> str:
    """Return the form of a sheet; ids begin with `prefix`, names are the door's own field ids."""
    return "\n".join([
        f'<form class="calculator-form" novalidate autocomplete="off" aria-labelledby="{prefix}-title">',
        f'<div class="calculator-faults" role="group" aria-labelledby="{prefix}-faults" tabindex="-1" hidden>'
        f'<p class="calculator-faults-title" id="{prefix}-faults">Check these entries</p><ul></ul></div>',
        *_unit_choices(data, prefix),
        *_fields(data, prefix),
        '<div class="calculator-acts"><button type="submit">Work it out</button>'
        '<button type="reset" class="calculator-clear">Clear</button></div>',
        '<p class="calculator-private">Nothing you enter leaves this page or is kept.</p>',
        "</form>",
        '<p class="calculator-no-script">The live form needs JavaScript. '
        "The formula, the limits and a worked example below hold without it.</p>",
    ])


def _unit_choices(data: Data, prefix: str) -> list[str]:
    """One choice for all inputs that can be typed in the same units."""
    groups: dict[tuple[str, ...], list[str]] = {}
    for entry in form.entries(data):
        if entry.get("other_units"):
            groups.setdefault(tuple(form.choices(entry)), []).append(entry["id"])
    found = []
    for place, (choices, inputs) in enumerate(groups.items(), 1):
        name = f"{prefix}-unit-{place}"
        options = "".join(
            f'<label class="calculator-choice"><input type="radio" name="{name}" value="{escape(unit)}"'
            f'{" checked" if unit == choices[0] else ""}> <span>{escape(units.symbol(unit))}</span></label>'
            for unit in choices
        )
        legend = units.quantity(choices[0]).capitalize() + " in"
        if len({units.quantity(other[0]) for other in groups}) < len(groups):
            # Two groups of one quantity, weights in kg and in g say, are told apart by what they are of.
            legend = next(entry["label"] for entry in form.entries(data) if entry["id"] == inputs[0]) + " in"
        found.append(
            f'<fieldset class="calculator-units" data-inputs="{" ".join(inputs)}">'
            f"<legend>{legend}</legend>{options}</fieldset>"
        )
    return found


def _fields(data: Data, prefix: str) -> list[str]:
    """The fields in the sheet's order, those of one side or of one repeated measurement in a group of their own."""
    fields = form.fields(data)
    parts: list[str] = []
    done: set[str] = set()
    for entry in form.entries(data):
        if entry["id"] in done:
            continue
        if "row" in entry:
            alike = [one["id"] for one in data["inputs"] if one.get("row") == entry["row"]]
            done.update(alike)
            own = [field for field in fields if field["input"]["id"] in alike]
            for index, label in enumerate(entry["fields"]):
                parts.append(_row(f"{entry['row']}, {label.lower()}", [
                    field for field in own if field["index"] == index
                ], prefix))
            continue
        if entry.get("sided"):
            sided = [one["id"] for one in data["inputs"] if one.get("sided")]
            done.update(sided)
            for side in data["sides"]:
                own = [field for field in fields if field["input"]["id"] in sided and field["side"] == side["id"]]
                parts.append(_group(side["label"], own, prefix, len(sided) == 1))
            continue
        own = [field for field in fields if field["input"]["id"] == entry["id"]]
        alone = "fields" not in entry
        parts.append(_field(own[0], entry["label"], prefix) if alone else _group(entry["label"], own, prefix, True))
    return parts


def _group(legend: str, fields: list[Data], prefix: str, one_input: bool) -> str:
    """Fields under one legend; where they are of one input, its own label joins the legend and leaves the fields."""
    shown = []
    for field in fields:
        entry = field["input"]
        part = entry["fields"][field["index"]] if field["index"] is not None else ""
        label = part if part and one_input else ", ".join(word for word in (entry["label"], part) if word)
        shown.append(_field(field, label, prefix, hint=field["index"] in (None, 0)))
    label = fields[0]["input"]["label"]
    if one_input and legend != label:
        legend = f"{legend}: {label[:1].lower()}{label[1:]}"
    return f'<fieldset class="calculator-group"><legend>{escape(legend)}</legend>{"".join(shown)}</fieldset>'


def _row(legend: str, fields: list[Data], prefix: str) -> str:
    """The measurements that were made together, each by its own name."""
    shown = [_field(field, field["input"]["label"], prefix, hint=field["index"] == 0) for field in fields]
    least = fields[0]["input"].get("least", len(fields[0]["input"]["fields"]))
    spare = ' <span class="calculator-optional">(may be left out)</span>' if fields[0]["index"] >= least else ""
    return f'<fieldset class="calculator-group"><legend>{escape(legend)}{spare}</legend>{"".join(shown)}</fieldset>'


def _list(field: Data, label: str, prefix: str) -> str:
    """A choice among many, from a list."""
    entry = field["input"]
    own = f"{prefix}-{field['field'].replace('_', '-').replace('.', '-')}"
    hinted = "hint" in entry
    described = f"{own}-hint {own}-fault" if hinted else f"{own}-fault"
    spare = ' <span class="calculator-optional">(may be left out)</span>' if entry.get("optional") else ""
    options = ""
    for group, members in groupby(entry["choices"], key=lambda one: one.get("group")):
        own_options = "".join(f'<option value="{one["id"]}">{escape(one["label"])}</option>' for one in members)
        options += f'<optgroup label="{escape(group)}">{own_options}</optgroup>' if group else own_options
    return "".join([
        f'<div class="calculator-field calculator-question" data-field="{field["field"]}" '
        f'data-input="{entry["id"]}"><label for="{own}">{escape(label)}{spare}</label>',
        f'<p class="calculator-hint" id="{own}-hint">{escape(entry["hint"])}</p>' if hinted else "",
        f'<p class="calculator-fault" id="{own}-fault" hidden></p>',
        f'<select id="{own}" name="{field["field"]}" aria-describedby="{described}">'
        f'<option value="">choose</option>{options}</select></div>',
    ])


def _question(field: Data, label: str, prefix: str) -> str:
    """A choice, one tap each."""
    entry = field["input"]
    own = f"{prefix}-{field['field'].replace('_', '-').replace('.', '-')}"
    hinted = "hint" in entry
    described = f"{own}-hint {own}-fault" if hinted else f"{own}-fault"
    options = "".join(
        f'<label class="calculator-choice"><input type="radio" id="{own}-{option["id"]}" name="{field["field"]}" '
        f'value="{option["id"]}" aria-describedby="{described}"> <span>{escape(option["label"])}</span></label>'
        for option in entry["choices"]
    )
    return "".join([
        f'<fieldset class="calculator-field calculator-question" data-field="{field["field"]}" '
        f'data-input="{entry["id"]}"><legend>{escape(label)}</legend>',
        f'<p class="calculator-hint" id="{own}-hint">{escape(entry["hint"])}</p>' if hinted else "",
        f'<div class="calculator-options">{options}</div>',
        f'<p class="calculator-fault" id="{own}-fault" hidden></p></fieldset>',
    ])


def _table(field: Data, label: str, prefix: str) -> str:
    """A place for a table to be pasted into, or read into from a file."""
    entry = field["input"]
    own = f"{prefix}-{field['field'].replace('_', '-')}"
    described = f"{own}-hint {own}-fault" if "hint" in entry else f"{own}-fault"
    return "".join([
        f'<div class="calculator-field calculator-table" data-field="{field["field"]}" data-input="{entry["id"]}">',
        f'<label for="{own}">{escape(label)}</label>',
        f'<p class="calculator-hint" id="{own}-hint">{escape(entry["hint"])}</p>' if "hint" in entry else "",
        f'<p class="calculator-fault" id="{own}-fault" hidden></p>',
        f'<textarea id="{own}" name="{field["field"]}" rows="8" aria-describedby="{described}" '
        'autocomplete="off" autocorrect="off" spellcheck="false"></textarea>',
        f'<label class="calculator-file" for="{own}-file">Or choose a .csv or .txt file '
        f'<span class="calculator-hint">It is read in this page and sent nowhere.</span>'
        f'<input type="file" id="{own}-file" accept=".csv,.txt,.tsv,text/csv,text/plain"></label>',
        '<p class="calculator-file-told" role="status"></p></div>',
    ])


def _field(field: Data, label: str, prefix: str, hint: bool = True) -> str:
    entry = field["input"]
    if "columns" in entry:
        return _table(field, label, prefix)
    if "choices" in entry:
        return (_list if len(entry["choices"]) > MOST_TAPS else _question)(field, label, prefix)
    name = field["field"]
    own = f"{prefix}-{name.replace('_', '-').replace('.', '-')}"
    hinted = hint and "hint" in entry
    spare = entry.get("optional") and not entry.get("item")
    optional = ' <span class="calculator-optional">(may be left out)</span>' if spare else ""
    symbol = units.symbol(entry["unit"])
    unit = f' <span class="calculator-unit">{escape(symbol)}</span>' if symbol else ""
    described = f"{own}-hint {own}-fault" if hinted else f"{own}-fault"
    keys = "numeric" if entry.get("whole") else "decimal"
    return "".join([
        f'<div class="calculator-field" data-field="{name}" data-input="{entry["id"]}">',
        f'<label for="{own}">{escape(label)}{unit}{optional}</label>',
        f'<p class="calculator-hint" id="{own}-hint">{escape(entry["hint"])}</p>' if hinted else "",
        f'<p class="calculator-fault" id="{own}-fault" hidden></p>',
        '<div class="calculator-entry">',
        f'<input type="text" inputmode="{keys}" id="{own}" name="{name}" aria-describedby="{described}" '
        'autocomplete="off" autocorrect="off" spellcheck="false" enterkeyhint="go">',
        # Number keyboards of phones have no minus sign.
        '<button type="button" class="calculator-sign" data-act="sign" '
        f'aria-label="Change the sign: {escape(label)}">±</button>'
        if entry["possible"][0] < 0 else "",
        "</div>",
        _answers(entry, own, field["label"]),
        "</div>",
    ])


def _answers(entry: Data, own: str, label: str) -> str:
    if "answers" not in entry:
        return ""
    options = "".join(f'<option value="{one["id"]}">{escape(one["label"])}</option>' for one in entry["answers"])
    return (
        f'<div class="calculator-other"><label for="{own}-answer">or<span class="aside-words">, '
        f"in place of a number for {escape(label[:1].lower() + label[1:])}</span></label>"
        f'<select id="{own}-answer"><option value="">{NUMBER}</option>{options}</select></div>'
    )
