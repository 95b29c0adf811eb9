"""The probability of a condition after bedside findings, in the odds form of Bayes.

A finding is what its page in the handbook says of it: {"name", "finding", "study", "mechanism", "ratio", "low", "high",
"target", "population", "note", "reference"}. Rows of one study tested the same target in similar people; rows of one
mechanism come and go together. low and high are the 95 % interval of the ratio, or None where none was read.
"""

from calculators.numbers import plain

# No bedside sign makes a condition certain: nothing beyond these is shown, in per cent.
LEAST = 0.1
MOST = 99.9


def refusal(first, second):
    """Why two findings cannot be chained, or "". second may be None."""
    if second is None:
        return ""
    if first["finding"] == second["finding"]:
        return "The same finding was chosen twice. It counts once: leave the second empty."
    if first["study"] != second["study"]:
        about = "“" + first["name"] + "” was studied for " + _studied(first) + ". "
        about = about + "“" + second["name"] + "” was studied for " + _studied(second) + ". "
        return about + "Ratios of different targets or different people cannot be multiplied: use one of them."
    if first["mechanism"] == second["mechanism"]:
        return (
            "These two share a mechanism: whoever has one tends to have the other, so multiplying them would "
            "overstate what they prove. Use the stronger one alone."
        )
    return ""


def percent_after(before_percent, ratio):
    """Odds after = odds before × likelihood ratio, back as a percentage [richardson2008, introduction]."""
    odds = ratio * before_percent / (100 - before_percent)
    return 100 * odds / (1 + odds)


def after(before_percent, first, second):
    """The probability after one finding, or two, in per cent, held between LEAST and MOST.

    before_percent: above 0 and below 100. low and high carry the interval of a single finding through; where none
    was read, and for two findings, they are the result. `bare` is 1 where a single finding has no interval, `chained`
    where two were multiplied.
    """
    ratio = first["ratio"]
    terms = plain(ratio)
    lowest = first["low"]
    if second is not None:
        ratio = ratio * second["ratio"]
        terms = terms + " × " + plain(second["ratio"])
        # How two ratios vary together was not studied, so their intervals cannot be joined.
        lowest = None
    exact = percent_after(before_percent, ratio)
    found = _held(exact)
    rest = 100 - before_percent
    return {
        "first_told": _told(first),
        "second_told": "" if second is None else _told(second),
        "before": before_percent,
        "rest": rest,
        "odds": before_percent / rest,
        "terms": terms,
        "ratio": ratio,
        "odds_after": ratio * before_percent / rest,
        "exact": exact,
        "probability": found,
        "low": found if lowest is None else _held(percent_after(before_percent, lowest)),
        "high": found if lowest is None else _held(percent_after(before_percent, first["high"])),
        "bare": int(lowest is None and second is None),
        "held": int(found != exact),
        "chained": int(second is not None),
    }


def drawn(before_percent, first, second):
    """The way from the probability before to that after, and how far the interval reaches."""
    found = after(before_percent, first, second)
    height = 0.5
    lines = [["move", before_percent, height, found["probability"], height]]
    if found["low"] < found["high"]:
        lines = [["reach", found["low"], height, found["high"], height]] + lines
    return {
        "across": [0, 100],
        "up": None,
        "lines": lines,
        "points": [["start", before_percent, height], ["end", found["probability"], height]],
    }


def _studied(finding):
    return finding["target"] + " (" + finding["population"] + ")"


def _told(finding):
    """What was studied, in whom, by whom, and what to bear in mind with it."""
    note = " " + finding["note"] if finding["note"] else ""
    return finding["name"] + ", for " + _studied(finding) + ": " + finding["reference"] + "." + note


def _held(percent):
    return min(max(percent, LEAST), MOST)
