"""Reading numbers that people type, and showing numbers that formulas give.

The engines we run in disagree about `float(text)`, `round` and `format`, so each has a replacement here
that gives the same digits everywhere.
"""

import math

SPACES = " \t\r\n\u00a0\u2007\u2009\u200a\u202f\ufeff"
MINUS_SIGNS = "-\u2010\u2011\u2012\u2013\u2212"
DIGITS = "0123456789"
# Integers up to here are exact as floats, so digits / 10**k is correctly rounded in every engine.
MOST_DIGITS = 15
# Decimal halves such as 0.905 are stored a hair below the half; this lifts them over it again.
HALF_SLACK = 1e-9
# Conversions leave dust in the last bits; a limit is met when the value is this near to it.
EDGE_SLACK = 1e-9


def parse(text):
    """Read a number, with a unit after it if one was typed.

    text (str): as typed; point or comma marks the decimals, any minus sign and space is accepted.
    Returns (value, unit, problem): value a float or None, unit the text after the number (""),
    problem a sentence for the reader or "".
    """
    bare = trim(text)
    place = 0
    negative = False
    if bare[:1] == "+":
        place = 1
    elif bare[:1] != "" and bare[0] in MINUS_SIGNS:
        negative = True
        place = 1
    while place < len(bare) and bare[place] in SPACES:
        place += 1
    start = place
    while place < len(bare) and (bare[place] in DIGITS or bare[place] in ".,"):
        place += 1
    number = bare[start:place]
    unit = trim(bare[place:])
    problem = _problem(bare, number, unit)
    if problem:
        return None, "", problem
    whole, _, decimals = number.replace(",", ".").partition(".")
    value = int(whole + decimals) / 10 ** len(decimals)
    if negative and value != 0:
        value = -value
    return value, unit, ""


def _problem(bare, number, unit):
    """Say what keeps `number` from being read one way only; "" if nothing does."""
    quoted = "“" + bare[:40] + "”"
    digits = number.replace(",", "").replace(".", "")
    if digits == "":
        return quoted + " is not a number. Write it in digits, for example 120 or 7.5."
    if unit[:1] == "/" and unit[1:2] != "" and unit[1:2] in DIGITS:
        return quoted + " holds two numbers. Put each in its own field."
    if unit[:1] != "" and (unit[0] in DIGITS or unit[0] in MINUS_SIGNS):
        return quoted + " could be one number or two. Write one number, without a gap."
    if "_" in unit:
        return quoted + " is not a number. Write the digits alone, for example 1200."
    if len(digits) > MOST_DIGITS:
        return quoted + " has more digits than any measurement. Check what was typed."
    if number.count(",") + number.count(".") > 1:
        return quoted + " has more than one point or comma. Write one at most, before the decimals."
    before, comma, after = number.partition(",")
    if comma and len(after) == 3 and 1 <= len(before) <= 3 and before[0] != "0":
        thousands = before + after + " if the comma marks thousands"
        decimals = before + "." + after + " if it marks decimals"
        return quoted + " can be read in two ways. Write " + thousands + ", or " + decimals + "."
    return ""


def trim(text):
    """Strip every kind of space from both ends; `str.strip` knows ASCII alone in one engine."""
    start = 0
    end = len(text)
    while start < end and text[start] in SPACES:
        start += 1
    while end > start and text[end - 1] in SPACES:
        end -= 1
    return text[start:end]


def rounded(value, places):
    """Round halves away from zero to `places` decimals; returns a float."""
    size = _steps(value, places) / 10**places
    return -size if value < 0 and size != 0 else size


def fixed(value, places):
    """Show `value` with exactly `places` decimals, halves away from zero, a true minus sign (−)."""
    steps = _steps(value, places)
    text = str(steps)
    if places:
        while len(text) <= places:
            text = "0" + text
        text = text[: len(text) - places] + "." + text[len(text) - places :]
    return "−" + text if value < 0 and steps != 0 else text


def plain(value, most_places=3):
    """Show `value` with as many decimals as it needs, at most `most_places`."""
    text = fixed(value, most_places)
    if most_places:
        while text[-1] == "0":
            text = text[:-1]
        if text[-1] == ".":
            text = text[:-1]
    return "0" if text == "−0" else text


def _steps(value, places):
    """The size of `value` counted in units of its last shown decimal; an int."""
    return math.floor(abs(value) * 10**places + 0.5 + HALF_SLACK)


def at_least(value, limit):
    """True if `value` is the limit or more."""
    return value >= limit - EDGE_SLACK


def beyond(value, limit):
    """True if `value` is more than the limit."""
    return value > limit + EDGE_SLACK


def is_finite(value):
    """True unless `value` is infinite or not a number. Works on int and float."""
    return value - value == 0
