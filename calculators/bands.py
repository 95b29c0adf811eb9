"""Bands: which one a value falls in, where their edges lie, and which edges are near.

An edge is a number, or a table of several numbers by name, {systolic = 140, diastolic = 90}: then the band
holds from where any of them is reached. A scheme of criteria has rules on tallies in place of bands.
"""

from calculators import wording
from calculators.numbers import EDGE_SLACK, at_least, beyond, rounded

OPEN = "open"


def band_of(scheme, value):
    """The band of a scheme that holds `value`: the last whose edge it reaches.

    value: a number; or a dict of named numbers where the edges name several.
    """
    held = None
    for band in measured(scheme):
        if (
            ("from" in band and _reached(value, band["from"], at_least))
            or ("above" in band and _reached(value, band["above"], beyond))
            or ("from" not in band and "above" not in band)
        ):
            held = band
    return held


def _reached(value, edge, test):
    if isinstance(edge, dict):
        return any([test(value[name], edge[name]) for name in edge])
    return test(value, edge)


def names_numbers(scheme):
    """True if the edges of the scheme name the numbers that they are held against."""
    for band in scheme.get("bands", []):
        if isinstance(band.get("from", band.get("above")), dict):
            return True
    return False


def compared(scheme, output, raw):
    """The value held against the edges: as shown (rounded) or exact, as the scheme's source has it.

    raw: a number, or a dict of named numbers.
    """
    if isinstance(raw, dict):
        values = {}
        for name in raw:
            if not isinstance(raw[name], str):
                values[name] = _compared(scheme, output, raw[name])
        return values
    return _compared(scheme, output, raw)


def _compared(scheme, output, number):
    return rounded(number, output["places"]) if scheme["compare"] == "shown" else number


def rule_of(scheme, counts):
    """The rule of a scheme that holds for these tallies: the first with one way that is met.

    counts: dict of numbers by tally. A rule without `any` always holds.
    """
    for rule in scheme["rules"]:
        if "any" not in rule or any([_met(way, counts) for way in rule["any"]]):
            return rule
    return None


def _met(way, counts):
    return all([at_least(counts[tally], way[tally]) for tally in way])


def possible(scheme, output, low, high):
    """Every band or rule that tallies between `low` and `high` can come to, from the lowest on."""
    if "rules" in scheme:
        tallies = []
        for rule in scheme["rules"]:
            for way in rule.get("any", []):
                for tally in way:
                    if tally not in tallies:
                        tallies.append(tally)
        reached = [rule_of(scheme, counts)["id"] for counts in _between(sorted(tallies), low, high)]
        found = [rule for rule in scheme["rules"] if rule["id"] in reached]
        return [found[len(found) - 1 - place] for place in range(len(found))]
    ends = []
    for counts in [low, high]:
        value = counts if names_numbers(scheme) else counts[output["tallies"][0]]
        ends.append(band_of(scheme, value)["id"])
    ids = [band["id"] for band in scheme["bands"]]
    return scheme["bands"][ids.index(ends[0]) : ids.index(ends[1]) + 1]


def _between(tallies, low, high):
    """Every combination of whole tallies between two ends, as dicts."""
    found = [{}]
    for tally in tallies:
        longer = []
        for counts in found:
            for count in range(low[tally], high[tally] + 1):
                more = {}
                for name in counts:
                    more[name] = counts[name]
                more[tally] = count
                longer.append(more)
        found = longer
    return found


def measured(scheme):
    """The bands that a number can fall in: all but those that only an answer leads to."""
    return [band for band in scheme["bands"] if not band.get("answer")]


def edges(scheme):
    """The bands as intervals: [{id, label, low, high, low_included, high_included}], None where open."""
    found = []
    for band in measured(scheme):
        low = band.get("from", band.get("above"))
        if found:
            found[-1]["high"] = low
            found[-1]["high_included"] = "above" in band
        found.append({
            "id": band["id"],
            "label": band["label"],
            "low": low,
            "high": None,
            "low_included": "from" in band,
            "high_included": False,
        })
    return found


def ranges(scheme, output):
    """The range of each measured band, or each rule, in words: ["up to 0.90", "0.91 to 0.99", ...].

    Bands that hold the shown value say its steps, so that a reader finds the number on the screen in
    one of them; bands that hold the exact value say "up to", "above", "below" or "or more".
    """
    if "rules" in scheme:
        return [wording.rule(rule) for rule in scheme["rules"]]
    if names_numbers(scheme):
        return [wording.named_edge(edge["low"], edge["low_included"], output) for edge in edges(scheme)]
    return [wording.range_of(edge, scheme["compare"] == "shown", output) for edge in edges(scheme)]


def described(scheme, band):
    """A band as the answer carries it: {scheme, scheme_id, band, label, now, then, urgent, source, ...}."""
    cited = band if "source" in band else scheme
    return {
        "scheme": wording.scheme_name(scheme),
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


def described_open(scheme, candidates):
    """What a scheme says while items that are not known leave several bands possible."""
    found = described(scheme, candidates[0])
    found["band"] = OPEN
    found["label"] = wording.still_open([band["label"] for band in candidates])
    found["then"] = wording.open_advice(candidates)
    return found


def reach_of(uncertainty, raw, numbers):
    """How far from the result the truth may lie, [low, high], or None if that is not known as numbers.

    numbers: dict of the formula's numbers, one of which may be the error itself.
    """
    if "between" in uncertainty:
        low, high = uncertainty["between"]
        return [numbers[low], numbers[high]]
    if "number" in uncertainty:
        return [raw - numbers[uncertainty["number"]], raw + numbers[uncertainty["number"]]]
    if "relative" in uncertainty:
        size = abs(raw) * uncertainty["relative"]
        return [raw - size, raw + size]
    if "below" in uncertainty:
        return [raw - uncertainty["below"], raw + uncertainty["above"]]
    return None


def near(scheme, output, raw, reach):
    """Say which edges lie within the published error of the result. reach: [low, high] or None."""
    return _near([[edge["low"], ""] for edge in edges(scheme)], scheme, output, raw, reach)


def near_named(scheme, output, numbers):
    """The same for each number that the edges name. numbers: dict of the formula's numbers."""
    lines = []
    for name in output["shows"]:
        limits = []
        for edge in edges(scheme):
            if edge["low"] is not None and name in edge["low"]:
                limits.append([edge["low"][name], name])
        reach = reach_of(output["uncertainty"], numbers[name], numbers) if "uncertainty" in output else None
        lines.extend(_near(limits, scheme, output, numbers[name], reach))
    return lines


def _near(limits, scheme, output, raw, reach):
    lines = []
    for limit, name in limits:
        if limit is None:
            continue
        hidden = rounded(raw, output["places"]) == limit and abs(raw - limit) > EDGE_SLACK
        if hidden and scheme["compare"] == "exact":
            lines.append(wording.before_rounding(raw, limit, output, name))
        if reach is not None and reach[0] < reach[1] and at_least(limit, reach[0]) and at_least(reach[1], limit):
            value = compared(scheme, output, raw)
            lines.append(wording.near_edge(value, limit, output, scheme["name"], name))
    return lines
