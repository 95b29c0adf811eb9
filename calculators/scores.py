"""Points and criteria: what the answered items come to, and what those not known may still add.

An item that is not known never counts as no: every tally has a lowest and a highest still possible.
"""

from calculators import wording
from calculators.numbers import at_least, beyond

NOT_KNOWN = "not-known"
UNKNOWN_OPTION = {"id": NOT_KNOWN, "label": "Not known"}


def as_input(item):
    """The field of an item: yes, no, a choice or a number, and always "not known"."""
    entry = {"id": item["id"], "label": item["label"], "optional": True, "item": True}
    for key in ["hint", "unit", "other_units", "possible", "usual"]:
        if key in item:
            entry[key] = item[key]
    if "unit" in item:
        entry["answers"] = [UNKNOWN_OPTION]
    elif "choices" in item:
        entry["choices"] = item["choices"] + [UNKNOWN_OPTION]
    else:
        entry["choices"] = [{"id": "yes", "label": "Yes"}, {"id": "no", "label": "No"}, UNKNOWN_OPTION]
    return entry


def items_of(sheet, output):
    """The items that count towards an output."""
    return [item for item in sheet["items"] if _tally_in(item, output) is not None]


def tallies_of(item):
    """The tallies an item counts towards: most often one, several where two editions of a score share it."""
    tally = item.get("tally", "points")
    return [tally] if isinstance(tally, str) else tally


def _tally_in(item, output):
    """The tally of an output that an item counts towards, or None."""
    for tally in output["tallies"]:
        if tally in tallies_of(item):
            return tally
    return None


def highest_name(tally):
    """The name of the highest count of a single item in a tally, beside the tally itself."""
    return tally + wording.HIGHEST


def tallied(sheet, output, given, formulas):
    """What the items of an output come to.

    Returns {low, high: {tally: number, tally_highest: number}, known, of: counts of items,
    unknown: [labels], lines: [the working]}.
    """
    scored = [_scored(item, _tally_in(item, output), given, formulas) for item in items_of(sheet, output)]
    found = {"low": {}, "high": {}, "known": 0, "of": len(scored), "unknown": [], "lines": []}
    for one in scored:
        if one["known"]:
            found["known"] += 1
        else:
            found["unknown"].append(one["label"])
        if one["known"] and one["low"] != 0:
            found["lines"].append(wording.counted(one["label"], one["low"], one["tally"]))
    for tally in output["tallies"]:
        own = _grouped([one for one in scored if one["tally"] == tally])
        for end in ["low", "high"]:
            counts = [one[end] for one in own]
            found[end][tally] = _added(counts)
            found[end][highest_name(tally)] = max(counts) if counts else 0
        found["lines"].extend(wording.sums(tally, own, len(output["tallies"]) > 1))
    return found


def _scored(item, tally, given, formulas):
    """One item, as it counts towards one tally: {label, tally, group, known, low, high}."""
    if "formula" in item:
        arguments = {}
        for name in item["takes"]:
            arguments[name] = _plain(given[name])
        low, high = getattr(formulas, item["formula"])(**arguments)
        known = low == high
    else:
        value = given[item["id"]]
        known = value is not None and not (isinstance(value, dict) and value["id"] == NOT_KNOWN)
        counts = [_count(item, value)] if known else _possible(item)
        low = min(counts)
        high = max(counts)
    return {
        "label": item["label"],
        "tally": tally,
        "group": item.get("group"),
        "known": known,
        "low": low,
        "high": high,
    }


def _plain(value):
    """An input as an item's formula takes it: a number, the id of a choice, or None where it is not known."""
    if isinstance(value, dict):
        return None if value["id"] == NOT_KNOWN else value["id"]
    return value


def _count(item, value):
    """What a known answer counts."""
    if isinstance(value, dict):
        if "choices" in item:
            return value["points"]
        return item["points"] if value["id"] == "yes" else 0
    count = 0
    for step in item["points"]:
        if (
            ("from" in step and at_least(value, step["from"]))
            or ("above" in step and beyond(value, step["above"]))
            or ("from" not in step and "above" not in step)
        ):
            count = step["gives"]
    return count


def _possible(item):
    """Every count that the item can have."""
    if "choices" in item:
        return [choice["points"] for choice in item["choices"]]
    if "unit" in item:
        counts = [step["gives"] for step in item["points"]]
        first = item["points"][0]
        return counts + [0] if "from" in first or "above" in first else counts
    return [item["points"], 0]


def _grouped(scored):
    """Items of one group become one, with the group's highest count."""
    found = []
    for one in scored:
        leader = [other for other in found if one["group"] is not None and other["group"] == one["group"]]
        if leader:
            leader[0]["low"] = max(leader[0]["low"], one["low"])
            leader[0]["high"] = max(leader[0]["high"], one["high"])
        else:
            found.append({"group": one["group"], "low": one["low"], "high": one["high"]})
    return found


def _added(counts):
    whole = 0
    for count in counts:
        whole = whole + count
    return whole
