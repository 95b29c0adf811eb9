"""One result with its words: value, sentence, working, bands, error and nearness.

engine.py describes the answer that results stand in.
"""

from calculators import bands, units, wording
from calculators.numbers import fixed, plain


def side_label(sheet, side):
    """The label of a side in a list, or an empty list."""
    return [entry["label"] for entry in sheet.get("sides", []) if entry["id"] == side]


def _schemes(sheet, output, given):
    """The schemes that read an output and apply to what was chosen."""
    found = []
    for scheme in sheet.get("schemes", []):
        if output["id"] in scheme["reads"]:
            chosen = [[given[wanted["input"]], wanted["is"]] for wanted in scheme.get("applies", [])]
            if all([option is not None and option["id"] in ids for option, ids in chosen]):
                found.append(scheme)
    return found


def _empty_result(output, side, lead):
    """A result with its sources and without what was found."""
    return {
        "output": output["id"],
        "side": side,
        "label": wording.joined(lead + [output["label"]]),
        "value": "",
        "unit": units.symbol(output["unit"]),
        "also": [],
        "raw": None,
        "sentence": "",
        "working": [],
        "bands": [],
        "near": [],
        "drawing": None,
        "uncertainty": "",
        "uncertainty_source": "",
        "uncertainty_place": "",
        "uncertainty_quoted_in": "",
        "source": output["source"],
        "place": output["place"],
        "quoted_in": output.get("quoted_in", ""),
    }


def scored(sheet, output, given, score):
    """The result of a score or a list of criteria. score: as scores.tallied gives it."""
    result = _empty_result(output, None, [])
    low = score["low"]
    high = score["high"]
    numbers = {}
    lowest = {}
    highest = {}
    for tally in output["tallies"]:
        lowest[tally] = plain(low[tally])
        highest[tally] = plain(high[tally])
        numbers[tally] = wording.range_between(lowest[tally], highest[tally])
        if low[tally] == high[tally] and len(output["tallies"]) == 1:
            result["raw"] = low[tally]
    result["value"] = wording.fill(output["value"], numbers)
    sentence = wording.fill(output["sentence"], {"value": result["value"]})
    ends = [wording.fill(output["value"], lowest), wording.fill(output["value"], highest)]
    result["sentence"] = sentence + " " + wording.known_items(score["known"], score["of"], ends[0], ends[1])
    result["working"] = score["lines"]
    if "uncertainty" in output:
        _add_uncertainty(result, output, None)
    for scheme in _schemes(sheet, output, given):
        candidates = bands.possible(scheme, output, low, high)
        if len(candidates) == 1:
            result["bands"].append(bands.described(scheme, candidates[0]))
        else:
            result["bands"].append(bands.described_open(scheme, candidates))
    return result


def measured(sheet, output, side, found, given):
    """One result with its words. found: what the formula returned."""
    lead = side_label(sheet, side)
    schemes = _schemes(sheet, output, given)
    result = _empty_result(output, side, lead)
    if found is None:
        result["sentence"] = wording.led(lead, output["unknown"])
    elif isinstance(found, str):
        option = _option(sheet, output, found)
        result["sentence"] = wording.led(lead, option["label"] + ".")
        for scheme in schemes:
            for band in scheme["bands"]:
                if band["id"] == option["band"]:
                    result["bands"].append(bands.described(scheme, band))
    else:
        _add_number(result, output, found, lead, schemes)
    return result


def _add_number(result, output, found, lead, schemes):
    """Fill a result that is a number. found: the formula's named numbers."""
    if not isinstance(output["shows"], str):
        _add_numbers(result, output, found, lead, schemes)
        return
    raw = found[output["shows"]]
    result["raw"] = raw
    show = plain if output.get("trim") else fixed
    result["value"] = show(raw, output["places"])
    shown = units.with_unit(result["value"], output["unit"])
    others = []
    for other in output.get("also", []):
        text = fixed(units.convert(raw, output["unit"], other["unit"]), other["places"])
        result["also"].append({"value": text, "unit": units.symbol(other["unit"])})
        others.append(units.with_unit(text, other["unit"]))
    if others:
        shown = shown + " (" + ", ".join(others) + ")"
    result["sentence"] = wording.led(lead, wording.fill(output["sentence"], {"value": shown}))
    result["working"] = _working(output, found)
    reach = None
    if "uncertainty" in output:
        reach = bands.reach_of(output["uncertainty"], raw, found)
        _add_uncertainty(result, output, reach)
    for scheme in schemes:
        band = bands.band_of(scheme, bands.compared(scheme, output, raw))
        result["bands"].append(bands.described(scheme, band))
        result["near"].extend(bands.near(scheme, output, raw, reach))


def _add_numbers(result, output, found, lead, schemes):
    """Fill a result that is several numbers side by side, for example systolic and diastolic."""
    texts = {}
    show = plain if output.get("trim") else fixed
    for name in output["shows"]:
        texts[name] = show(found[name], output["places"])
    result["value"] = wording.fill(output["value"], texts)
    result["raw"] = found[output["shows"][0]]
    shown = units.with_unit(result["value"], output["unit"])
    result["sentence"] = wording.led(lead, wording.fill(output["sentence"], {"value": shown}))
    result["working"] = _working(output, found)
    if "uncertainty" in output:
        _add_uncertainty(result, output, None)
    for scheme in schemes:
        band = bands.band_of(scheme, bands.compared(scheme, output, found))
        result["bands"].append(bands.described(scheme, band))
        result["near"].extend(bands.near_named(scheme, output, found))


def _working(output, found):
    """The lines of the working; a line that is a text of the formula alone is left out where that is empty."""
    lines = [wording.fill(line, found) for line in output["working"]]
    return [line for line in lines if line]


def _add_uncertainty(result, output, reach):
    """Say how far the truth may lie from a result. reach: [low, high] or None."""
    # A share of zero is zero, which would say that no flow was measured without error.
    certain = reach is not None and reach[0] == reach[1]
    result["uncertainty"] = "" if certain else wording.uncertainty(output, reach)
    result["uncertainty_source"] = output["uncertainty"]["source"]
    result["uncertainty_place"] = output["uncertainty"]["place"]
    result["uncertainty_quoted_in"] = output["uncertainty"].get("quoted_in", "")


def _option(sheet, output, answer_id):
    """The answer with this id among the inputs that the output takes."""
    for entry in sheet["inputs"]:
        if entry["id"] in output["takes"]:
            for option in entry.get("answers", []):
                if option["id"] == answer_id:
                    return option
    raise ValueError("the formula returned an answer that no input offers: " + answer_id)
