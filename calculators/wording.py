"""The sentences around a result: what is wrong, what is near, and the text for copying."""

from calculators import units
from calculators.numbers import fixed, plain

NOT_FINITE = "These numbers give no result. Check each of them against what was measured."
PLAIN_SOURCES = [["common-practice", "common practice, no source"], ["memory", "from memory, not looked up"]]


def fill(template, values):
    """Put numbers and texts into the braces of a template: {mean}, or {mean:1} for one decimal."""
    pieces = template.split("{")
    text = pieces[0]
    for piece in pieces[1:]:
        name, _, rest = piece.partition("}")
        name, colon, places = name.partition(":")
        value = values[name]
        if isinstance(value, str):
            text = text + value + rest
        elif colon:
            text = text + fixed(value, int(places)) + rest
        else:
            text = text + plain(value) + rest
    return text


def sentence_case(text, follows):
    """Lower the first letter where the text follows a lead such as "Right leg: "."""
    return text[:1].lower() + text[1:] if follows else text


def missing(field):
    """Ask for a field that is empty."""
    options = [option["label"] for option in field["input"].get("answers", [])]
    ask = field["label"] + " is missing. Enter it"
    if options:
        return ask + ", or choose: " + "; ".join(options) + "."
    return ask + "."


def no_such_field(name, known):
    """Say which fields there are."""
    return "There is no field " + str(name)[:40] + ". The fields are " + ", ".join(known) + "."


def _named(choices):
    return " or ".join([units.symbol(unit) for unit in choices])


def wrong_unit(field, typed, choices):
    """Say which units a field takes."""
    return "“" + str(typed)[:20] + "” is not a unit of this field. " + field["label"] + " is read in " + _named(choices) + "."


def _limits(bounds, own_unit, unit):
    low = plain(units.convert(bounds[0], own_unit, unit), 1)
    high = plain(units.convert(bounds[1], own_unit, unit), 1)
    return units.with_unit(low + " to " + high, unit)


def impossible(field, value, unit, choices):
    """Say what the field can hold, and guess a mistaken unit where the number would fit another."""
    entry = field["input"]
    message = (
        field["label"] + " of " + units.with_unit(plain(value), unit) + " cannot be right: this field takes "
        + _limits(entry["possible"], entry["unit"], unit) + "."
    )
    for other in choices:
        if other != unit:
            would_be = units.convert(value, other, entry["unit"])
            if entry["usual"][0] <= would_be <= entry["usual"][1]:
                return message + " If it was measured in " + units.symbol(other) + ", choose that unit."
    return message + " Check the reading and the unit."


def unusual(field, value, unit):
    """Ask for a second look at a number that is possible and rare."""
    entry = field["input"]
    return (
        field["label"] + " of " + units.with_unit(plain(value), unit) + " is unusual (mostly "
        + _limits(entry["usual"], entry["unit"], unit) + "). Check it before relying on the result."
    )


def side_untouched(label):
    """Say that nothing was entered for one side."""
    return label + ": nothing entered, so there is no result for it."


def side_unfinished(label):
    """Say that one side waits for more."""
    return label + ": not complete yet."


def optional_absent(entry, output):
    """Say what an optional input would add."""
    return "Add " + entry["label"][:1].lower() + entry["label"][1:] + " to see also: " + output["label"] + "."


def uncertainty(output, facts, reach):
    """How far the truth may lie from the result, in the sheet's words."""
    if reach is None:
        return facts["text"]
    places = output["places"]
    return fill(facts["text"], {
        "low": fixed(reach[0], places),
        "high": units.with_unit(fixed(reach[1], places), output["unit"]),
    })


def near_edge(value, edge, places, unit, scheme):
    """Say that an edge lies within the measurement error."""
    distance = units.with_unit(fixed(abs(value - edge), places), unit)
    limit = units.with_unit(fixed(edge, places), unit)
    if abs(value - edge) < 0.5 / 10**places:
        where = "The result lies on the limit of " + limit
    elif value > edge:
        where = "The result lies " + distance + " above the limit of " + limit
    else:
        where = "The result lies " + distance + " below the limit of " + limit
    return where + " (" + scheme + "), within the published error. A repeat may fall on the other side: measure again."


def before_rounding(raw, edge, places, unit):
    """Explain a result that shows as the edge and is banded by its exact value."""
    side = "below" if raw < edge else "above"
    return "Before rounding the result is " + units.with_unit(fixed(raw, places + 2), unit) + ", " + side + " the limit."


def citation(sheet, cited):
    """A source in words. cited: dict with source, place and perhaps quoted_in."""
    words = _reference(sheet, cited["source"])
    if cited["place"]:
        words = words + ", " + cited["place"]
    if cited.get("quoted_in"):
        words = words + " (quoted in " + _reference(sheet, cited["quoted_in"]) + ")"
    return words


def _reference(sheet, key):
    """The short reference if the sheet carries one, else the key itself."""
    for row in PLAIN_SOURCES:
        if row[0] == key:
            return row[1]
    return sheet.get("citations", {}).get(key, key)


def copied(sheet, echo, reply, version):
    """The whole answer as plain text: inputs, results, working, bands, sources, version."""
    lines = [sheet["title"], ""]
    for pair in echo:
        lines.append(pair[0] + ": " + pair[1])
    for result in reply["results"]:
        lines.append("")
        lines.append(result["sentence"])
        if result["working"]:
            lines.append("Working: " + "; ".join(result["working"]))
        for band in result["bands"]:
            lines.append(band["scheme"] + ": " + band["label"])
            for advice in [band["now"], band["then"]]:
                if advice:
                    lines.append(advice)
            lines.append("Source of the limits: " + citation(sheet, band))
        for line in result["near"]:
            lines.append(line)
        if result["uncertainty"]:
            lines.append(result["uncertainty"])
        lines.append("Source: " + citation(sheet, result))
    cautions = [caution["message"] for caution in reply["cautions"]]
    for remark in cautions + reply["notes"]:
        lines.append("")
        lines.append(remark)
    lines.append("")
    lines.append("Pulse & Ruler" + (" " + version if version else ""))
    return "\n".join(lines)
