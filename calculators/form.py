"""The form of a calculator: its fields, what was typed into them, and what is still missing."""

from calculators import pasted, scores, units, wording
from calculators.numbers import at_least, parse, rounded, trim


def entries(sheet):
    """Every input of a sheet, its own first, then those of its items."""
    items = [scores.as_input(item) for item in sheet.get("items", []) if "formula" not in item]
    return sheet.get("inputs", []) + items


def fields(sheet):
    """Every field in order: [{field (id), input (dict), side (id or None), index (or None), label}]."""
    found = []
    for entry in entries(sheet):
        for side in sheet["sides"] if entry.get("sided") else [None]:
            names = entry.get("fields", [None])
            for index in range(len(names)):
                parts = [entry["id"]]
                words = [entry["label"]]
                if side is not None:
                    parts.append(side["id"])
                    words = [side["label"], entry["label"]]
                if names[index] is not None:
                    parts.append(str(index + 1))
                    words.append(names[index])
                found.append({
                    "field": ".".join(parts),
                    "input": entry,
                    "side": None if side is None else side["id"],
                    "index": None if names[index] is None else index,
                    "label": wording.joined(words),
                })
    return found


def choices(entry):
    """The units that an input may be typed in, the formula's own first; none for a choice or a table."""
    if "choices" in entry or "columns" in entry:
        return []
    return [entry["unit"]] + entry.get("other_units", [])


def problem(field, kind, message):
    """A problem as the answer carries it. kind: missing, unreadable, impossible, relation or excluded."""
    return {"field": field, "kind": kind, "message": message}


def read(sheet, request):
    """Turn the typed texts into numbers and answers, with a problem or caution for each odd one.

    Returns {given: {field: number, answer (dict), rows (list) or None}, echo: [[label, text]], problems, cautions}.
    """
    typed = request.get("answers", {})
    chosen = request.get("units", {})
    given = {}
    echo = []
    problems = []
    cautions = []
    every = fields(sheet)
    for name in sorted(typed):
        if not any(field["field"] == name for field in every):
            message = wording.no_such_field(name, [field["field"] for field in every])
            problems.append(problem(None, "unreadable", message))
    for field in every:
        name = field["field"]
        unit = chosen.get(name, chosen.get(field["input"]["id"], field["input"].get("unit", "")))
        outcome = _read_field(field, typed.get(name, ""), unit)
        given[name] = outcome["value"]
        if outcome["problem"]:
            problems.append(problem(name, outcome["kind"], outcome["problem"]))
        if outcome["caution"]:
            cautions.append({"field": name, "message": outcome["caution"]})
        if outcome["echo"]:
            echo.append([field["label"], outcome["echo"]])
    if not problems:
        for relation in sheet.get("relations", []):
            lowers = [field["field"] for field in every if field["input"]["id"] == relation["lower"]]
            highers = [field["field"] for field in every if field["input"]["id"] == relation["higher"]]
            for place in range(len(lowers)):
                lower = given[lowers[place]]
                higher = given[highers[place]]
                if lower is not None and higher is not None and at_least(lower, higher):
                    problems.append(problem(lowers[place], "relation", relation["message"]))
    return {"given": given, "echo": echo, "problems": problems, "cautions": cautions}


def _read_field(field, text, unit):
    """Read one field: {value, echo, problem, kind, caution}. A missing field has the value None."""
    entry = field["input"]
    outcome = {"value": None, "echo": "", "problem": "", "kind": "", "caution": ""}
    if not isinstance(text, str):
        outcome["problem"] = field["label"] + " must be sent as text."
        outcome["kind"] = "unreadable"
        return outcome
    text = trim(text)
    if text == "":
        return outcome
    for option in entry.get("choices", entry.get("answers", [])):
        if option["id"] == text:
            outcome["value"] = option
            outcome["echo"] = option["label"]
            outcome["problem"] = option.get("refuses", "")
            outcome["kind"] = "excluded"
            outcome["caution"] = option.get("warns", "")
            return outcome
    if "choices" in entry:
        outcome["problem"] = wording.not_a_choice(field, text)
        outcome["kind"] = "unreadable"
        return outcome
    if "columns" in entry:
        rows, outcome["problem"], outcome["kind"] = pasted.read(text, entry["columns"])
        if rows:
            outcome["value"] = rows
            outcome["echo"] = wording.lines_pasted(len(rows))
        return outcome
    value, typed_unit, fault = parse(text)
    if fault == "" and typed_unit != "":
        unit = units.typed(typed_unit)
    if fault == "" and unit not in choices(entry):
        fault = wording.wrong_unit(field, typed_unit if typed_unit != "" else unit, choices(entry))
    if fault:
        outcome["problem"] = fault
        outcome["kind"] = "unreadable"
        return outcome
    canonical = units.convert(value, unit, entry["unit"])
    if not _within(canonical, entry["possible"]):
        outcome["problem"] = wording.impossible(field, value, unit, choices(entry))
        outcome["kind"] = "impossible"
        return outcome
    if entry.get("whole") and rounded(canonical, 0) != canonical:
        outcome["problem"] = wording.not_whole(field, value)
        outcome["kind"] = "impossible"
        return outcome
    if not _within(canonical, entry["usual"]):
        outcome["caution"] = wording.unusual(field, value, unit)
    outcome["value"] = canonical
    # What was typed is echoed, not a number printed anew, so that nothing seems to have changed.
    outcome["echo"] = text if typed_unit != "" else units.with_unit(text, unit)
    return outcome


def _within(value, bounds):
    return at_least(value, bounds[0]) and at_least(bounds[1], value)


def missing_from(sheet, given):
    """What is still to be entered.

    Returns {fields: to ask for, waits: bool (no answer yet), done: [side ids],
    left_out: [ids of done sides with nothing measured, for example no limb],
    begun: [labels of sides not finished], untouched: [labels of sides left empty]}.
    A side left empty is not missed as long as the other is complete: one leg alone can be read.
    """
    whole = fields(sheet)
    asked = [field for field in whole if _is_asked(field, whole, given)]
    lacking = [field for field in asked if given[field["field"]] is None]
    general = [field for field in lacking if field["side"] is None]
    done = []
    left_out = []
    begun = []
    untouched = []
    for side in sheet.get("sides", []):
        every = [field for field in asked if field["side"] == side["id"]]
        empty = [field for field in lacking if field["side"] == side["id"]]
        if not empty:
            done.append(side["id"])
            if all([_is_left_out(given[field["field"]]) for field in every]):
                left_out.append(side["id"])
        elif len(empty) < len(every):
            begun.append(side)
        else:
            untouched.append(side)
    wanted = begun if done or begun else untouched
    sided = [field for field in lacking if field["side"] in [side["id"] for side in wanted]]
    return {
        "fields": general + sided,
        "waits": len(general) > 0 or ("sides" in sheet and not done),
        "done": done,
        "left_out": left_out,
        "begun": [side["label"] for side in begun],
        "untouched": [side["label"] for side in untouched],
    }


def _is_asked(field, whole, given):
    """True for a field that an answer waits for.

    Of a row of like measurements beyond the `least` ones, only the rest of a row that has been begun.
    """
    entry = field["input"]
    if entry.get("optional"):
        return False
    if field["index"] is None or field["index"] < entry.get("least", len(entry["fields"])):
        return True
    if "row" not in entry or given[field["field"]] is not None:
        return False
    for other in whole:
        if other["index"] == field["index"] and other["input"].get("row") == entry["row"]:
            if given[other["field"]] is not None:
                return True
    return False


def _is_left_out(value):
    """True for an answer such as "not measured", which neither stands for a number nor decides a band."""
    return isinstance(value, dict) and "value" not in value and "band" not in value
