"""From a sheet and what a reader typed to a result with its words.

A calculator is a folder: `formula.py` (pure functions in the sheet's own units, each returning a dict of
named numbers) and `sheet.toml` (everything else). The sheet:

    title, asks             its name, and the question it answers
    needs, gives            what it takes and what comes of it, in a few words for the list of calculators
    aliases                 other names, for searching
    intro                   one paragraph: what it does and when to use it
    cautions                [{grade, title, text, source, place}], shown before the form; grade: "stop",
                            "get-help" or "take-care"
    notes                   [{text, source, place}], shown beside it and given with each answer
    edition                 {text, source, place}: whose criteria these are, and of when
    status                  "draft": loaded and checked in form, never on a page that is built, proved or counted
    sides                   [{id, label}] where one measurement is made on each side
    [[inputs]]
      id, label, hint       id is the formula's keyword and names the unit: systolic_mmhg
      unit, other_units     the formula's unit first, then others the reader may choose
      possible, usual       [low, high] inclusive, in `unit`: outside is an error, or a caution
      choices               [{id, label, refuses, warns}] in place of unit, possible and usual: one is chosen and
                            reaches the formula as its id. `refuses` says why there is no answer for it,
                            `warns` is a caution. A question that is not known has a choice of its own for that.
                            `data` reaches the formula in place of the id; `group` heads its part of a long list
      choices_from            "findings" in place of choices: every likelihood ratio of the findings' pages, each
                            with its study and people as `data` (build_tools/likelihoods.py)
      columns               [{label, possible}] in place of unit, possible and usual: a table is pasted, one line
                            a row, and reaches the formula as a list of rows, each a list of numbers
      whole                 true: it is counted, so a fraction is refused
      optional              true: only the outputs that take it wait for it
      sided                 true: asked once for each side
      fields                labels of several like measurements, which reach the formula as a list
      answers               [{id, label, value | band}] that are no number: `value` stands in for it;
                            `band` reaches the formula as the answer's id; neither leaves it out (None)
      least                 how many of the `fields` must be filled; the others reach the formula as None
      row                   name of a table: inputs of one row name with the same `fields` are asked together,
                            row by row, and a row that has been begun must be filled
    [[items]]               what gives points; each is asked like an input, "not known" is always offered, and
                            an item that is not known or not answered counts as anything it could be
      id, label, hint       as above
      points                of a yes; or, with unit, other_units, possible and usual: steps [{gives}, {from | above,
                            gives}] from low to high
      choices               [{id, label, points}]
      formula, takes        instead: a function of inputs and items, None where not known, that returns [lowest,
                            highest]; `counts` says its points in words
      tally                 what it counts towards, "points" if not said; a list where several outputs share it
      group                 of the items of one group and tally the highest counts
    [[relations]]           lower, higher, message: the first input must lie below the second, row by row
    [[refusals]]            formula, takes: a function that says why these answers cannot go together, or ""
    [[outputs]]
      id, label, formula    formula names the function
      takes                 ids of the inputs it takes
      may_lack              those of them that reach it as None while they are empty
      tallies, value        in place of formula, takes, shows, working and places: the tallies it adds up, and the
                            template of what is shown, "{major} major, {minor} minor"
      sided                 true: once for each side
      shows, unit, places   which of the formula's numbers is the result, and its decimals; a list of several
                            with `value`, the template that joins them: "{systolic}/{diastolic}"
      trim                  true: drop closing zeros, since the input may carry fewer decimals
      also                  [{unit, places}]: the same result in other units
      sentence              whole sentence; {value} is the result with its unit
      equation              the formula in words, for the page
      when                  when this way of reckoning matters
      working               lines naming the formula's numbers, or texts: "{systolic} − {diastolic} = {gap} mmHg";
                            {share:2} fixes the decimals, otherwise up to three as needed
      remarks               [{number, is, text}]: a caution when that number of the formula is that
      unknown               what to say when the formula returns None: not enough is known
      uncertainty           text, source, place, and how far the truth may lie from the result: relative = 0.16;
                            below, above (in `unit`); number = the formula's number that is the error;
                            between = [its numbers that are the ends]. {low} and {high} in the text;
                            near: what to do when a band's edge lies within it
      ruler                 [low, high] of the drawn scale
      drawing               {formula, across, up, says}: a function of the same inputs that gives the shapes of
                            drawings.py, what its axes are called (`up` only where it has one), and the text
                            that stands for it, with the numbers of the output's formula
      source, place
    [[schemes]]
      id, name, source, place
      reads                 ids of the outputs it bands
      applies               [{input, is}]: only where each of these choices was made
      superseded            what has taken its place; the name is marked
      compare               "shown": the rounded result is held against the edges; "exact": the raw one
      bands                 [{id, label, now, then, urgent, from | above, source, place}] from low to high:
                            `from` is this value and up, `above` beyond it; a first band without an edge
                            is open below; `answer = true` marks a band that only an answer leads to. An edge
                            that names numbers, {systolic = 140, diastolic = 90}, is reached by either; a
                            tally's highest single item is named like points_highest
      rules                 in place of compare and bands, from the most to the least: [{id, label, now, then,
                            urgent, any = [{major = 2}, {major = 1, minor = 2}]}], the last one without `any`
    [[checks]]
      checks                "published": what is given and what comes of it both stand at source and place;
                            "constructed": our own numbers, also where they stand on printed limits or are worked
                            with printed factors (source and place then say whose); or "common-practice"
      given                 {systolic_mmhg = 120}; a list for `fields`; a table by side; a text as typed
      units                 {systolic_mmhg = "kPa"}
      expect                {output = "93", "output in kPa" = "12.4", scheme = "band"}, or a table by side;
                            "unknown" where the formula returns None, "answer" where an answer decides,
                            "none" where there is no result;
                            {number = 0.333, within = 0.02, because = "..."} where the print is coarser
                            "output says" for words of its sentence, working, error or nearness, "output omits"
                            for words that must not be there; "output draws" for words of its drawing, and for
                            its shapes, written like "fit 66,200 302,40" and "seen 66,200 3";
                            "5 to 7" and "open" where items are not known
      cautioned             the fields that must carry a caution, and no others; "" for one on no field
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

from calculators import drawings, form, outcomes, scores, wording
from calculators.numbers import is_finite

FORMAT = 1


def answer(sheet, formulas, request):
    """Answer one request. sheet: dict, formulas: the formula module, request: dict; returns a dict."""
    reading = form.read(sheet, request)
    missing = form.missing_from(sheet, reading["given"])
    asked = request.get("complete") is True
    reply = _reply(sheet["id"], "refused", reading["problems"])
    reply["cautions"] = reading["cautions"]
    if reply["problems"]:
        return reply
    if missing["waits"] or (asked and missing["begun"]):
        reply["state"] = "incomplete"
        if asked:
            for field in missing["fields"]:
                reply["problems"].append(form.problem(field["field"], "missing", wording.missing(field)))
        return reply
    if "items" in sheet and not _any_known(sheet, reading["given"]):
        reply["state"] = "incomplete"
        if asked:
            first = form.entries(sheet)[len(sheet.get("inputs", []))]
            reply["problems"].append(form.problem(first["id"], "missing", wording.no_item_known()))
        return reply
    for refusal in sheet.get("refusals", []):
        message = _refusal(sheet, formulas, refusal, reading["given"])
        if message:
            reply["state"] = "refused"
            reply["problems"].append(form.problem(None, "excluded", message))
            return reply
    results, cautions, notes = _results(sheet, formulas, reading["given"], missing)
    if results is None:
        reply["problems"] = [form.problem(None, "impossible", wording.NOT_FINITE)]
        return reply
    if results == []:
        reply["state"] = "incomplete"
        if asked:
            first = form.fields(sheet)[0]
            reply["problems"].append(form.problem(first["field"], "missing", wording.nothing_measured()))
        return reply
    reply["state"] = "answer"
    reply["results"] = results
    reply["cautions"].extend(cautions)
    reply["notes"] = notes + [note["text"] for note in sheet.get("notes", [])]
    reply["text"] = wording.copied(sheet, reading["echo"], reply, request.get("version", ""))
    return reply


def _any_known(sheet, given):
    """True once one item is known, also where its points come from other inputs."""
    taken = []
    for item in sheet["items"]:
        taken.extend(item.get("takes", []))
    # What every reader must choose, such as a scale, says nothing of the person yet.
    names = [
        entry["id"]
        for entry in form.entries(sheet)
        if entry.get("item") or (entry["id"] in taken and entry.get("optional"))
    ]
    return any([
        given[name] is not None and not (isinstance(given[name], dict) and given[name]["id"] == scores.NOT_KNOWN)
        for name in names
    ])


def _refusal(sheet, formulas, refusal, given):
    """Why the answers of a refusal's inputs cannot go together, or "". An input left empty reaches it as None."""
    arguments = {}
    for entry in sheet["inputs"]:
        if entry["id"] in refusal["takes"]:
            arguments[entry["id"]] = _for_formula(given[entry["id"]], entry)
    return getattr(formulas, refusal["formula"])(**arguments)


def unknown_calculator(name):
    """The answer to a request for a calculator that is not loaded."""
    message = "There is no calculator of that name here. Check how it is spelled."
    return _reply(name, "refused", [form.problem(None, "unreadable", message)])


def _reply(name, state, problems):
    return {
        "state": state,
        "calculator": name,
        "format": FORMAT,
        "problems": problems,
        "cautions": [],
        "results": [],
        "notes": [],
        "text": "",
    }


def _results(sheet, formulas, given, missing):
    """Every result in the sheet's order, cautions on them, and notes on what is not there.

    Returns (results, cautions, notes); results is None if a number is not finite.
    """
    results = []
    cautions = []
    notes = [wording.side_untouched(label) for label in missing["untouched"]]
    notes.extend([wording.side_begun(label) for label in missing["begun"]])
    for entry in sheet.get("sides", []):
        if entry["id"] in missing["left_out"]:
            notes.append(wording.side_left_out(entry["label"]))
    for output in sheet["outputs"]:
        if "tallies" in output:
            score = scores.tallied(sheet, output, given, formulas)
            results.append(outcomes.scored(sheet, output, given, score))
            if score["unknown"]:
                notes.append(wording.items_not_known(score["unknown"]))
            continue
        absent = None
        for side in missing["done"] if output.get("sided") else [None]:
            arguments, absent = _arguments(sheet, output, given, side)
            if absent is None and side not in missing["left_out"]:
                finite, found = _reckoned(getattr(formulas, output["formula"]), arguments)
                if not finite:
                    return None, [], []
                result = outcomes.measured(sheet, output, side, found, given)
                if "drawing" in output and isinstance(found, dict):
                    shapes = getattr(formulas, output["drawing"]["formula"])(**arguments)
                    result["drawing"] = drawings.drawn(output["drawing"], shapes, found)
                results.append(result)
                cautions.extend(_remarks(sheet, output, side, found))
        if absent is not None:
            notes.append(wording.optional_absent(absent, output))
    return results, cautions, notes


def _reckoned(formula, arguments):
    """What the formula returns, as (True, result), or (False, None) where a number is not finite.

    An overflow is an error in one engine and infinity in another; both end here.
    """
    try:
        found = formula(**arguments)
    except (OverflowError, ZeroDivisionError):
        return False, None
    if isinstance(found, dict):
        # A formula may return texts beside its numbers, such as the terms of a sum, for the working.
        for name in found:
            if not isinstance(found[name], str) and not is_finite(found[name]):
                return False, None
    return True, found


def _remarks(sheet, output, side, found):
    """The cautions that the formula's own numbers call for, for example that one artery alone was measured."""
    if not isinstance(found, dict):
        return []
    lead = outcomes.side_label(sheet, side)
    remarks = [remark for remark in output.get("remarks", []) if found[remark["number"]] == remark["is"]]
    return [{"field": None, "message": wording.led(lead, remark["text"])} for remark in remarks]


def _arguments(sheet, output, given, side):
    """The formula's keyword arguments, and the optional input that keeps it waiting (or None)."""
    arguments = {}
    whole = form.fields(sheet)
    for entry in sheet["inputs"]:
        if entry["id"] not in output["takes"]:
            continue
        values = []
        for field in whole:
            if field["input"]["id"] == entry["id"] and field["side"] in [None, side]:
                spare = "least" in entry or entry["id"] in output.get("may_lack", [])
                if given[field["field"]] is None and not spare:
                    return {}, entry
                values.append(_for_formula(given[field["field"]], entry))
        arguments[entry["id"]] = values if "fields" in entry else values[0]
    return arguments, None


def _for_formula(value, entry):
    """A number as it is; a choice as its id; an answer as its stand-in, its id if it decides a band, or None."""
    if not isinstance(value, dict):
        return value
    if "choices" in entry:
        return value.get("data", value["id"])
    if "value" in value:
        return value["value"]
    return value["id"] if "band" in value else None
