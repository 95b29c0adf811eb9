"""Bands: which one a value falls in, where their edges lie, and which edges are near."""

from calculators import wording
from calculators.numbers import EDGE_SLACK, at_least, beyond, rounded


def band_of(scheme, value):
    """The band of a scheme that holds `value`: the last whose edge it reaches."""
    held = None
    for band in measured(scheme):
        if (
            ("from" in band and at_least(value, band["from"]))
            or ("above" in band and beyond(value, band["above"]))
            or ("from" not in band and "above" not in band)
        ):
            held = band
    return held


def compared(scheme, output, raw):
    """The value held against the edges: as shown (rounded) or exact, as the scheme's source has it."""
    return rounded(raw, output["places"]) if scheme["compare"] == "shown" else raw


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
    """The range of each measured band in words: ["up to 0.90", "0.91 to 0.99", ...].

    Bands that hold the shown value say its steps, so that a reader finds the number on the screen in
    one of them; bands that hold the exact value say "up to", "above", "below" or "or more".
    """
    return [wording.range_of(edge, scheme["compare"] == "shown", output) for edge in edges(scheme)]


def described(scheme, band):
    """A band as the answer carries it: {scheme, scheme_id, band, label, now, then, urgent, source, ...}."""
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


def reach_of(uncertainty, raw):
    """How far from the result the truth may lie, [low, high], or None if that is not known as numbers."""
    if "relative" in uncertainty:
        size = abs(raw) * uncertainty["relative"]
        return [raw - size, raw + size]
    if "below" in uncertainty:
        return [raw - uncertainty["below"], raw + uncertainty["above"]]
    return None


def near(scheme, output, raw, reach):
    """Say which edges lie within the published error of the result. reach: [low, high] or None."""
    lines = []
    for edge in edges(scheme):
        limit = edge["low"]
        if limit is None:
            continue
        hidden = rounded(raw, output["places"]) == limit and abs(raw - limit) > EDGE_SLACK
        if hidden and scheme["compare"] == "exact":
            lines.append(wording.before_rounding(raw, limit, output))
        if reach is not None and reach[0] < reach[1] and at_least(limit, reach[0]) and at_least(reach[1], limit):
            lines.append(wording.near_edge(compared(scheme, output, raw), limit, output, scheme["name"]))
    return lines
