"""From a sheet and what a reader typed to a result with its words.

A calculator is a folder: `formula.py` (pure functions in the sheet's own units, each returning a dict of
named numbers) and `sheet.toml` (everything else). The sheet:

    title, asks             its name, and the question it answers
    aliases                 other names, for searching
    intro                   one paragraph: what it does and when to use it
    cautions                [{title, text, source, place}], shown before the form
    notes                   [{text, source, place}], shown beside it and given with each answer
    sides                   [{id, label}] where one measurement is made on each side
    [[inputs]]
      id, label, hint       id is the formula's keyword and names the unit: systolic_mmhg
      unit, other_units     the formula's unit first, then others the reader may choose
      possible, usual       [low, high] inclusive, in `unit`: outside is an error, or a caution
      optional              true: only the outputs that take it wait for it
      sided                 true: asked once for each side
      fields                labels of several like measurements, which reach the formula as a list
      answers               [{id, label, value | band}] that are no number: `value` stands in for it;
                            `band` reaches the formula as the answer's id; neither leaves it out (None)
    [[relations]]           lower, higher, message: the first input must lie below the second
    [[outputs]]
      id, label, formula    formula names the function
      takes                 ids of the inputs it takes
      sided                 true: once for each side
      shows, unit, places   which of the formula's numbers is the result, and how it is shown
      also                  [{unit, places}]: the same result in other units
      sentence              whole sentence; {value} is the result with its unit
      equation              the formula in words, for the page
      when                  when this way of reckoning matters
      working               lines naming the formula's numbers: "{systolic} − {diastolic} = {gap} mmHg";
                            {share:2} fixes the decimals, otherwise up to three as needed
      unknown               what to say when the formula returns None: not enough is known
      uncertainty           text, source, place, and relative = 0.16 or below, above (in `unit`):
                            how far the truth may lie from the result; {low} and {high} in the text
      ruler                 [low, high] of the drawn scale
      source, place
    [[schemes]]
      id, name, source, place
      reads                 ids of the outputs it bands
      compare               "shown": the rounded result is held against the edges; "exact": the raw one
      bands                 [{id, label, now, then, urgent, from | above, source, place}] from low to high:
                            `from` is this value and up, `above` beyond it; a first band without an edge
                            is open below; `answer = true` marks a band that only an answer leads to
    [[checks]]
      checks                "published" (with source and place), "constructed" or "common-practice"
      given                 {systolic_mmhg = 120}; a list for `fields`; a table by side; a text as typed
      units                 {systolic_mmhg = "kPa"}
      expect                {output = "93", "output in kPa" = "12.4", scheme = "band"}, or a table by side;
                            "unknown" where the formula returns None, "answer" where an answer decides;
                            {number = 0.333, within = 0.02, because = "..."} where the print is coarser
      refused               the kind of problem expected instead
      example               true: the worked example that the page shows

`source` is a key of content/references.bib, "common-practice" or "memory" (nobody has looked it up);
`place` says where in it; `quoted_in` is the key of the work in which it was read, if that is another.
A sheet on its way to the page may carry `citations`, {key: short reference}, for the copied text.

A formula returns a dict, None (not enough is known) or the id of the answer that decides the band.

Request: {"calculator", "answers": {field: text as typed}, "units": {input or field: unit},
"complete": true when an answer is asked for, "version": of the handbook, for the copied text}.
A field is `input`, `input.N` (from 1), `input.side` or `input.side.N`.

Answer: {"state": "answer" | "incomplete" | "refused", "calculator", "format", "problems", "cautions",
"results", "notes", "text"}. Order lives in lists only, since MicroPython's dicts have none.
"""

from calculators import units, wording
from calculators.numbers import fixed, is_finite, parse, rounded, trim
from calculators.wording import sentence_case

FORMAT = 1
# Conversions leave dust in the last bits; an edge is met when the value is this near to it.
EDGE_SLACK = 1e-9
STANDS_FOR = "value"
DECIDES = "band"


def answer(sheet, formulas, request):
    """Answer one request. sheet: dict, formulas: the module, request: dict; returns a dict as above."""
    reading = _read(sheet, request)
    problems = reading["problems"]
    missing = _missing(sheet, reading["given"])
    complete = request.get("complete") is True
    results = []
    notes = []
    if problems:
        state = "refused"
    elif missing["waits"] or (complete and missing["partial"]):
        state = "incomplete"
        if complete:
            problems = [_problem(field["field"], "missing", wording.missing(field)) for field in missing["fields"]]
    else:
        state = "answer"
        results, notes = _results(sheet, formulas, reading["given"], missing)
        unfit = [result for result in results if result["raw"] is not None and not is_finite(result["raw"])]
        if unfit:
            state = "refused"
            results = []
            problems = [_problem(None, "impossible", wording.NOT_FINITE)]
    if state == "answer":
        notes = notes + [note["text"] for note in sheet.get("notes", [])]
    reply = {
        "state": state,
        "calculator": sheet["id"],
        "format": FORMAT,
        "problems": problems,
        "cautions": reading["cautions"],
        "results": results,
        "notes": notes if state == "answer" else [],
        "text": "",
    }
    if state == "answer":
        reply["text"] = wording.copied(sheet, reading["echo"], reply, request.get("version", ""))
    return reply


def unknown_calculator(name):
    """The answer to a request for a calculator that is not loaded."""
    message = "There is no calculator called " + str(name)[:40] + " here. Check the spelling of its name."
    return {
        "state": "refused",
        "calculator": name,
        "format": FORMAT,
        "problems": [_problem(None, "unreadable", message)],
        "cautions": [],
        "results": [],
        "notes": [],
        "text": "",
    }


def fields(sheet):
    """Every field of the form in order: [{field, input (dict), side (id or None), index (or None), label}]."""
    found = []
    for entry in sheet["inputs"]:
        sides = sheet["sides"] if entry.get("sided") else [None]
        for side in sides:
            names = entry.get("fields", [None])
            for index in range(len(names)):
                parts = [entry["id"]]
                label = entry["label"]
                if side is not None:
                    parts.append(side["id"])
                    label = side["label"] + ", " + label[:1].lower() + label[1:]
                if names[index] is not None:
                    parts.append(str(index + 1))
                    label = label + ", " + names[index][:1].lower() + names[index][1:]
                found.append({
                    "field": ".".join(parts),
                    "input": entry,
                    "side": None if side is None else side["id"],
                    "index": None if names[index] is None else index,
                    "label": label,
                })
    return found


def choices(entry):
    """The units that an input may be typed in, the formula's own first."""
    return [entry["unit"]] + entry.get("other_units", [])


def _problem(field, kind, message):
    return {"field": field, "kind": kind, "message": message}


# Reading what was typed


def _read(sheet, request):
    """Turn the typed texts into numbers and answers, with a problem or caution for each odd one.

    Returns {given: {field: number, answer dict or None}, echo: [[label, text]], problems, cautions}.
    """
    typed = request.get("answers", {})
    chosen = request.get("units", {})
    given = {}
    echo = []
    problems = []
    cautions = []
    every = fields(sheet)
    for name in typed:
        if not any(field["field"] == name for field in every):
            message = wording.no_such_field(name, [field["field"] for field in every])
            problems.append(_problem(None, "unreadable", message))
    for field in every:
        name = field["field"]
        unit = chosen.get(name, chosen.get(field["input"]["id"], field["input"]["unit"]))
        text = typed.get(name, "")
        outcome = _read_field(field, text if isinstance(text, str) else "?", unit)
        given[name] = outcome["value"]
        if outcome["problem"]:
            problems.append(_problem(name, outcome["kind"], outcome["problem"]))
        if outcome["caution"]:
            cautions.append({"field": name, "message": outcome["caution"]})
        if outcome["echo"]:
            echo.append([field["label"], outcome["echo"]])
    if not problems:
        for relation in sheet.get("relations", []):
            lower = given[relation["lower"]]
            higher = given[relation["higher"]]
            if lower is not None and higher is not None and lower >= higher:
                problems.append(_problem(relation["lower"], "relation", relation["message"]))
    return {"given": given, "echo": echo, "problems": problems, "cautions": cautions}


def _read_field(field, text, unit):
    """Read one field: {value, echo, problem, kind, caution}. A missing field has the value None."""
    entry = field["input"]
    outcome = {"value": None, "echo": "", "problem": "", "kind": "", "caution": ""}
    text = trim(text)
    if text == "":
        return outcome
    for option in entry.get("answers", []):
        if option["id"] == text:
            outcome["value"] = option
            outcome["echo"] = option["label"]
            return outcome
    value, typed_unit, problem = parse(text)
    if problem == "" and typed_unit != "":
        unit = units.typed(typed_unit)
        if unit not in choices(entry):
            problem = wording.wrong_unit(field, typed_unit, choices(entry))
    elif problem == "" and unit not in choices(entry):
        problem = wording.wrong_unit(field, unit, choices(entry))
    if problem:
        outcome["problem"] = problem
        outcome["kind"] = "unreadable"
        return outcome
    canonical = units.convert(value, unit, entry["unit"])
    low, high = entry["possible"]
    if not low - EDGE_SLACK <= canonical <= high + EDGE_SLACK:
        outcome["problem"] = wording.impossible(field, value, unit, choices(entry))
        outcome["kind"] = "impossible"
        return outcome
    low, high = entry["usual"]
    if not low - EDGE_SLACK <= canonical <= high + EDGE_SLACK:
        outcome["caution"] = wording.unusual(field, value, unit)
    outcome["value"] = canonical
    # What was typed is echoed, not a number printed anew, so that nothing seems to have changed.
    outcome["echo"] = text if typed_unit != "" else units.with_unit(text, unit)
    return outcome


def _missing(sheet, given):
    """What is still to be entered.

    Returns {fields: [field dicts], waits: bool, partial: bool, done: {side: bool}, empty: {side: bool}}.
    `waits`: no answer can be given yet; `partial`: a side is begun and not finished.
    """
    general = []
    by_side = []
    for side in sheet.get("sides", []):
        by_side.append({"id": side["id"], "label": side["label"], "missing": [], "filled": 0})
    for field in fields(sheet):
        if field["input"].get("optional"):
            continue
        absent = given[field["field"]] is None
        if field["side"] is None:
            if absent:
                general.append(field)
        else:
            for entry in by_side:
                if entry["id"] == field["side"]:
                    if absent:
                        entry["missing"].append(field)
                    else:
                        entry["filled"] += 1
    lacking = list(general)
    done = []
    for entry in by_side:
        if not entry["missing"]:
            done.append(entry["id"])
    for entry in by_side:
        if entry["missing"] and (entry["filled"] or not done):
            lacking.extend(entry["missing"])
    partial = [entry for entry in by_side if entry["missing"] and entry["filled"]]
    untouched = [entry for entry in by_side if entry["missing"] and not entry["filled"]]
    return {
        "fields": lacking,
        "waits": len(general) > 0 or (len(by_side) > 0 and not done),
        "partial": partial,
        "untouched": untouched,
        "done": done,
    }


# Working it out


def _results(sheet, formulas, given, missing):
    """Every result in the sheet's order, and the notes on what is not there."""
    results = []
    notes = []
    for entry in missing["untouched"]:
        notes.append(wording.side_untouched(entry["label"]))
    for entry in missing["partial"]:
        notes.append(wording.side_unfinished(entry["label"]))
    for output in sheet["outputs"]:
        sides = missing["done"] if output.get("sided") else [None]
        for side in sides:
            arguments, absent = _arguments(sheet, output, given, side)
            if absent:
                notes.append(wording.optional_absent(absent, output))
            else:
                results.append(_result(sheet, output, side, getattr(formulas, output["formula"])(**arguments)))
    return results, notes


def _arguments(sheet, output, given, side):
    """The formula's keyword arguments, and the first optional input that is not there (or None)."""
    arguments = {}
    for entry in sheet["inputs"]:
        if entry["id"] not in output["takes"]:
            continue
        values = []
        for field in fields(sheet):
            if field["input"]["id"] == entry["id"] and (field["side"] is None or field["side"] == side):
                value = given[field["field"]]
                if value is None:
                    return {}, entry
                values.append(_for_formula(value))
        arguments[entry["id"]] = values if "fields" in entry else values[0]
    return arguments, None


def _for_formula(value):
    """A number as it is; an answer as its stand-in, its id if it decides a band, or None."""
    if not isinstance(value, dict):
        return value
    if STANDS_FOR in value:
        return value[STANDS_FOR]
    return value["id"] if DECIDES in value else None


def _result(sheet, output, side, found):
    """One result with its words. found: what the formula returned."""
    side_label = ""
    for entry in sheet.get("sides", []):
        if entry["id"] == side:
            side_label = entry["label"]
    result = {
        "output": output["id"],
        "side": side,
        "label": side_label + ", " + output["label"][:1].lower() + output["label"][1:] if side else output["label"],
        "value": "",
        "unit": units.symbol(output["unit"]),
        "also": [],
        "raw": None,
        "sentence": "",
        "working": [],
        "bands": [],
        "near": [],
        "uncertainty": "",
        "source": output["source"],
        "place": output["place"],
        "quoted_in": output.get("quoted_in", ""),
    }
    lead = side_label + ": " if side else ""
    if found is None:
        result["sentence"] = lead + output["unknown"]
        return result
    if isinstance(found, str):
        option = _option(sheet, output, found)
        result["sentence"] = lead + sentence_case(option["label"], side) + "."
        for scheme in sheet.get("schemes", []):
            if output["id"] in scheme["reads"]:
                for band in scheme["bands"]:
                    if band["id"] == option[DECIDES]:
                        result["bands"].append(_band(scheme, band))
        return result
    raw = found[output["shows"]]
    result["raw"] = raw
    for name in found:
        if not is_finite(found[name]):
            result["raw"] = found[name]
            return result
    result["value"] = fixed(raw, output["places"])
    for other in output.get("also", []):
        result["also"].append({
            "value": fixed_in(raw, output, other),
            "unit": units.symbol(other["unit"]),
        })
    shown = units.with_unit(result["value"], output["unit"])
    others = [units.with_unit(fixed_in(raw, output, other), other["unit"]) for other in output.get("also", [])]
    if others:
        shown = shown + " (" + ", ".join(others) + ")"
    sentence = wording.fill(output["sentence"], {"value": shown})
    result["sentence"] = lead + sentence_case(sentence, side)
    result["working"] = [wording.fill(line, found) for line in output["working"]]
    uncertainty = output.get("uncertainty")
    reach = _reach(uncertainty, raw)
    if uncertainty:
        result["uncertainty"] = wording.uncertainty(output, uncertainty, reach)
    for scheme in sheet.get("schemes", []):
        if output["id"] in scheme["reads"]:
            held = rounded(raw, output["places"]) if scheme["compare"] == "shown" else raw
            band = band_of(scheme, held)
            result["bands"].append(_band(scheme, band))
            for line in _near(output, scheme, band, held, raw, reach):
                result["near"].append(line)
    return result


def fixed_in(raw, output, other):
    """A result shown in another unit; other: {unit, places}."""
    return fixed(units.convert(raw, output["unit"], other["unit"]), other["places"])


def _option(sheet, output, answer_id):
    """The answer with this id among the inputs that the output takes."""
    for entry in sheet["inputs"]:
        if entry["id"] in output["takes"]:
            for option in entry.get("answers", []):
                if option["id"] == answer_id:
                    return option
    raise ValueError("the formula returned an answer that no input offers: " + answer_id)


# Bands


def band_of(scheme, value):
    """The band of a scheme that holds `value`: the last whose edge it reaches."""
    held = None
    for band in scheme["bands"]:
        if band.get("answer"):
            continue
        slack = EDGE_SLACK
        if "from" in band:
            if value >= band["from"] - slack:
                held = band
        elif "above" in band:
            if value > band["above"] + slack:
                held = band
        else:
            held = band
    return held


def band_edges(scheme):
    """The bands as intervals: [{id, label, low, high, low_included, high_included}], None where open."""
    found = []
    for band in scheme["bands"]:
        if band.get("answer"):
            continue
        low = band.get("from", band.get("above"))
        if found:
            found[-1]["high"] = low
            found[-1]["high_included"] = "above" in band
        found.append({
            "id": band["id"], "label": band["label"], "low": low, "high": None,
            "low_included": "from" in band, "high_included": False,
        })
    return found


def _band(scheme, band):
    cited = band if "source" in band else scheme
    return {
        "scheme": scheme["name"],
        "scheme_id": scheme["id"],
        "band": band["id"],
        "label": band["label"],
        "now": band.get("now", ""),
        "then": band.get("then", ""),
        "urgent": band.get("urgent", False),
        "source": cited["source"],
        "place": cited["place"],
        "quoted_in": cited.get("quoted_in", ""),
    }


def _reach(uncertainty, raw):
    """How far from the result the truth may lie, [low, high], or None if that is not known as numbers."""
    if uncertainty is None:
        return None
    if "relative" in uncertainty:
        size = abs(raw) * uncertainty["relative"]
        return [raw - size, raw + size]
    if "below" in uncertainty:
        return [raw - uncertainty["below"], raw + uncertainty["above"]]
    return None


def _near(output, scheme, band, held, raw, reach):
    """Say which edges of the scheme lie within the published error of the result."""
    lines = []
    places = output["places"]
    unit = output["unit"]
    for edge in band_edges(scheme):
        limit = edge["low"]
        if limit is None:
            continue
        if scheme["compare"] == "exact" and rounded(raw, places) == limit and abs(raw - limit) > EDGE_SLACK:
            lines.append(wording.before_rounding(raw, limit, places, unit))
        if reach is not None and reach[0] <= limit <= reach[1]:
            lines.append(wording.near_edge(held, limit, places, unit, scheme["name"]))
    return lines
