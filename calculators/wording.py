"""The sentences around a result: what is wrong, what is near, and the text for copying."""

from calculators import units
from calculators.numbers import EDGE_SLACK, fixed, plain

NOT_FINITE = "These numbers give no result. Check each of them against what was measured."
# The end of the name of the highest count of a single item in a tally.
HIGHEST = "_highest"
# The grades of a caution in words, and those that stand at the head of a copied answer.
GRADES = {"stop": "Stop", "get-help": "Get help", "take-care": "Take care"}
FIRST = ["stop", "get-help"]
# A sentence names no more answers than these.
MOST_OPTIONS = 12
PLAIN_SOURCES = [
    ["common-practice", "common practice, no source"],
    ["memory", "from memory, not looked up"],
    ["local-sign-off", "no source seen, for local sign-off"],
]


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


def joined(parts):
    """Join labels, the later ones without their capital: "Right leg, ankle pressure, dorsalis pedis"."""
    words = parts[0]
    for part in parts[1:]:
        words = words + ", " + _lowered(part)
    return words


def led(lead, sentence):
    """Put a lead before a sentence: "Right leg: index ...". lead: list of no or one label."""
    return lead[0] + ": " + _lowered(sentence) if lead else sentence


def _lowered(text):
    """Lower the first letter, unless the word is an abbreviation."""
    if text[1:2] != text[1:2].lower():
        return text
    return text[:1].lower() + text[1:]


def missing(field):
    """Ask for a field that is empty."""
    if "choices" in field["input"]:
        return choose(field)
    options = ["“" + option["label"] + "”" for option in field["input"].get("answers", [])]
    if options:
        return field["label"] + " is missing. Enter it, or choose " + " or ".join(options) + "."
    return field["label"] + " is missing. Enter it."


def lines_pasted(number):
    """What is echoed of a pasted table."""
    return plain(number) + (" line" if number == 1 else " lines")


def no_such_field(name, known):
    """Say which fields there are."""
    return "There is no field " + name[:40] + ". The fields are " + ", ".join(known) + "."


def wrong_unit(field, typed, choices):
    """Say which units a field takes."""
    named = " or ".join([units.symbol(unit) for unit in choices])
    found = "“" + typed[:20] + "” is not a unit of this field. "
    return found + field["label"] + " is read in " + named + "."


def _limits(bounds, own_unit, unit):
    low = plain(units.convert(bounds[0], own_unit, unit), 1)
    high = plain(units.convert(bounds[1], own_unit, unit), 1)
    return units.with_unit(low + " to " + high, unit)


def impossible(field, value, unit, choices):
    """Say what the field can hold, and guess a mistaken unit where the number would fit another."""
    entry = field["input"]
    found = field["label"] + " of " + units.with_unit(plain(value), unit)
    possible = _limits(entry["possible"], entry["unit"], unit)
    message = found + " cannot be right: this field takes " + possible + "."
    for other in choices:
        if other != unit:
            would_be = units.convert(value, other, entry["unit"])
            if entry["usual"][0] <= would_be <= entry["usual"][1]:
                return message + " If it was measured in " + units.symbol(other) + ", choose that unit."
    options = ["“" + option["label"] + "”" for option in entry.get("answers", [])]
    if options:
        return message + " Check the reading, or choose " + " or ".join(options) + "."
    return message + " Check the reading and the unit."


def not_whole(field, value):
    """Say that what is counted has no fractions."""
    return field["label"] + " of " + plain(value) + " cannot be right: it is counted. Write a whole number."


def unusual(field, value, unit):
    """Ask for a second look at a number that is possible and rare."""
    entry = field["input"]
    found = field["label"] + " of " + units.with_unit(plain(value), unit)
    usual = _limits(entry["usual"], entry["unit"], unit)
    return found + " is unusual (mostly " + usual + "). Check it before relying on the result."


def side_untouched(label):
    """Say that nothing was entered for one side."""
    return label + ": nothing entered, so there is no result for it."


def side_left_out(label):
    """Say that a side without any measurement has no result."""
    return label + ": not measured, so nothing is known of it."


def side_begun(label):
    """Say that one side waits for more."""
    return label + ": not complete yet."


def optional_absent(entry, output):
    """Say what an optional input would add."""
    return "Add " + _lowered(entry["label"]) + " to see also: " + _lowered(output["label"]) + "."


def range_of(edge, shown, output):
    """The range of a band in words. edge: as bands.edges gives it; shown: the rounded result is banded."""
    places = output.get("places", 0)
    low = edge["low"]
    high = edge["high"]
    step = 1 / 10**places if shown else 0
    if low is not None and not edge["low_included"]:
        low = low + step
    if high is not None and not edge["high_included"]:
        high = high - step
    if shown and low is None and high == 0:
        return units.with_unit(fixed(0, places), output["unit"])
    if shown and low is not None and high is not None:
        if fixed(low, places) == fixed(high, places):
            return units.with_unit(fixed(low, places), output["unit"])
        return units.with_unit(fixed(low, places) + " to " + fixed(high, places), output["unit"])
    words = []
    if low is not None:
        limit = _edge(low, output)
        words.append(limit + " or more" if shown or edge["low_included"] else "above " + limit)
    if high is not None:
        limit = _edge(high, output)
        words.append("up to " + limit if shown or edge["high_included"] else "below " + limit)
    return ", ".join(words)


def spaced(name):
    """The name of a number as words."""
    return name.replace("_", " ")


def named_edge(edge, included, output):
    """An edge of several numbers in words: "systolic 140 or more, or diastolic 90 or more". edge: dict or None."""
    if edge is None:
        return "Below all the following"
    words = []
    for name in sorted(edge):
        limit = units.with_unit(plain(edge[name]), output["unit"])
        subject = "a single item" if name.endswith(HIGHEST) else spaced(name)
        words.append(subject + " " + (limit + " or more" if included else "above " + limit))
    return ", or ".join([words[len(words) - 1 - place] for place in range(len(words))])


def rule(one):
    """A rule in words: "2 major, or 1 major and 3 minor"."""
    if "any" not in one:
        return "Otherwise"
    ways = []
    for way in one["any"]:
        ways.append(" and ".join([plain(way[tally]) + " " + spaced(tally) for tally in sorted(way)]))
    return ", or ".join(ways)


def scheme_name(scheme):
    """The name of a scheme, marked where a newer one has taken its place."""
    return scheme["name"] + (" (superseded)" if "superseded" in scheme else "")


def counted(label, count, tally):
    """A line of the working: what one item counts."""
    words = spaced(tally)
    # One point, not one points; the other tallies are the same for one and for many.
    if abs(count) == 1 and words[-6:] == "points":
        words = words[:-1]
    return label + ": " + plain(count) + " " + words


def sums(tally, own, named):
    """The sum of a tally as lines: one if it is certain, else lowest and highest. own: [{low, high}]."""
    title = spaced(tally) + ", " if named else ""
    certain = all([one["low"] == one["high"] for one in own])
    found = []
    for end, words in [["low", "sum" if certain else "lowest still possible"], ["high", "highest still possible"]]:
        terms = [one[end] for one in own if one[end] != 0]
        line = ""
        whole = 0
        for term in terms:
            whole = whole + term
            sign = " − " if term < 0 else " + "
            line = line + (sign if line else "−" if term < 0 else "") + plain(abs(term))
        if end == "low" or not certain:
            text = title + words
            # A sum of one number or of none is that number.
            reckoned = line + " = " if len(terms) > 1 else ""
            found.append(text[:1].upper() + text[1:] + ": " + reckoned + plain(whole))
    return found


def range_between(low, high):
    """Two shown numbers as one: "5", or "5 to 7"."""
    return low if low == high else low + " to " + high


def known_items(known, whole, low, high):
    """How many items the result rests on, and between which ends it still lies. low, high: the ends in words."""
    if known == whole:
        return "All " + plain(whole) + " items are known."
    lead = "Of " + plain(whole) + " items " + plain(known) + (" is known" if known == 1 else " are known")
    if low == high:
        return lead + "; the others cannot change it."
    return lead + ": the lowest still possible is " + low + ", the highest " + high + "."


def items_not_known(labels):
    """Which items may still change the result."""
    return "Not known, and not counted as no: " + "; ".join(labels) + "."


def nothing_measured():
    """Ask for a first measurement."""
    return "Nothing was measured, so there is no result. Enter at least one measurement."


def no_item_known():
    """Ask for a first item."""
    return "Answer at least one item."


def still_open(labels):
    """Which bands are still possible."""
    return "Still open: " + ", or ".join(labels)


def open_advice(candidates):
    """What to do while several bands are possible: take the highest as the measure."""
    urgent = [band for band in candidates if band.get("now")]
    advice = "Find out the items that are not known."
    if urgent:
        last = urgent[-1]
        return advice + " Until then act as for “" + last["label"] + "”: " + last["now"]
    return advice + " Until then do not rely on the lower reading."


def not_a_choice(field, text):
    """Say which answers a field takes."""
    return field["label"] + " cannot be “" + text[:20] + "”. Choose " + _options(field) + "."


def choose(field):
    """Ask for a choice that was not made."""
    return field["label"] + " is missing. Choose " + _options(field) + "."


def _options(field):
    """The answers of a field in words, or how many there are where a sentence cannot hold them."""
    labels = ["“" + option["label"] + "”" for option in field["input"]["choices"]]
    if len(labels) > MOST_OPTIONS:
        return "one of the " + plain(len(labels)) + " in the list"
    return " or ".join(labels)


def uncertainty(output, reach):
    """How far the truth may lie from the result, in the sheet's words. reach: [low, high] or None."""
    if reach is None:
        return output["uncertainty"]["text"]
    return fill(output["uncertainty"]["text"], {
        "low": fixed(reach[0], output["places"]),
        "high": units.with_unit(fixed(reach[1], output["places"]), output["unit"]),
    })


def near_edge(value, limit, output, scheme, name=""):
    """Say that a limit lies within the measurement error, and what to do about it. name: of the number."""
    result = "The " + spaced(name) + " result" if name else "The result"
    places = output["places"]
    side = " above" if value > limit else " below"
    distance = fixed(abs(value - limit), places)
    if abs(value - limit) <= EDGE_SLACK:
        where = result + " lies on the limit of "
    elif distance == fixed(0, places):
        step = units.with_unit(fixed(1 / 10**places, places), output["unit"])
        where = result + " lies less than " + step + side + " the limit of "
    else:
        where = result + " lies " + units.with_unit(distance, output["unit"]) + side + " the limit of "
    advice = output["uncertainty"].get("near", "A repeat may fall on the other side: measure again.")
    return where + _edge(limit, output) + " (" + scheme + "), within the error named below. " + advice


def before_rounding(raw, limit, output, name=""):
    """Explain a result that shows as the limit and is banded by its exact value. name: of the number."""
    result = "the " + spaced(name) + " result" if name else "the result"
    exact = units.with_unit(fixed(raw, output["places"] + 2), output["unit"])
    side = "; below" if raw < limit else "; above"
    return "Before rounding " + result + " is " + exact + side + " the limit."


def _edge(limit, output):
    """A limit with its unit, with as many decimals as the result has, or more if it needs them."""
    text = fixed(limit, output.get("places", 0))
    exact = plain(limit)
    return units.with_unit(exact if len(exact) > len(text) else text, output["unit"])


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
    """The whole answer as plain text: what must not wait, inputs, results, working, bands, sources, version."""
    lines = [sheet["title"], ""]
    for caution in sheet.get("cautions", []):
        if caution["grade"] in FIRST:
            lines.append(GRADES[caution["grade"]] + ": " + caution["title"] + ". " + caution["text"])
            lines.extend(["[" + citation(sheet, caution) + "]", ""])
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
            cited = {}
            for key in ["source", "place", "quoted_in"]:
                cited[key] = result["uncertainty_" + key]
            lines.append(result["uncertainty"] + " [" + citation(sheet, cited) + "]")
        lines.append("Source: " + citation(sheet, result))
    for caution in reply["cautions"]:
        lines.append("")
        lines.append(caution["message"])
    for remark in reply["notes"]:
        cited = [note for note in sheet.get("notes", []) if note["text"] == remark]
        lines.append("")
        lines.append(remark + (" [" + citation(sheet, cited[0]) + "]" if cited else ""))
    lines.append("")
    lines.append("Pulse & Ruler" + (" " + version if version else ""))
    return "\n".join(lines)
