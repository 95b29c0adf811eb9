"""Units: what each is called, how it is typed, and its size.

Sizes are exact by definition: standard gravity 9.80665 m/s² (3rd General Conference on Weights and
Measures, 1901), conventional mercury 13.5951 g/cm³ and conventional water 1 g/cm³ [nist811, Appendix B].
The record code mm[Hg] of UCUM is rounded to 133.322 Pa, 0.0003 % less [ucum]; a torr is not a mmHg.
"""

# id, quantity, size in the quantity's base (Pa, mm, degree, 1/min, kg, s, °C), how it is shown, how it may be typed
UNITS = [
    ["mmHg", "pressure", 133.322387415, " mmHg", ["mmhg", "mm[hg]"]],
    ["kPa", "pressure", 1000.0, " kPa", ["kpa"]],
    ["cmH2O", "pressure", 98.0665, " cmH₂O", ["cmh2o", "cmwater", "cm[h2o]"]],
    ["mm", "length", 1.0, " mm", ["mm"]],
    ["cm", "length", 10.0, " cm", ["cm"]],
    ["degrees", "angle", 1.0, "°", ["°", "deg", "degree", "degrees"]],
    ["/min", "rate", 1.0, "/min", ["/min", "permin", "bpm", "beats/min", "min-1"]],
    ["in", "length", 25.4, " in", ["in", "inch", "inches"]],
    ["kg", "mass", 1.0, " kg", ["kg"]],
    ["lb", "mass", 0.45359237, " lb", ["lb", "lbs"]],
    ["kg/m2", "mass by area", 1.0, " kg/m²", ["kg/m2", "kg/m²"]],
    ["m2", "area", 1.0, " m²", ["m2", "m²"]],
    ["s", "time", 1.0, " s", ["s", "sec", "seconds"]],
    ["ms", "time", 0.001, " ms", ["ms"]],
    ["years", "age", 1.0, " years", ["years", "year", "y"]],
    ["°C", "temperature", 1.0, " °C", ["°c", "c"]],
    ["°F", "temperature", 5 / 9, " °F", ["°f", "f"]],
    ["%", "share", 1.0, " %", ["%", "percent"]],
    ["", "number", 1.0, "", []],
]


# Where a scale has its zero elsewhere: water freezes at 32 °F.
ZEROS = [["°F", 32]]


def quantity(unit):
    """The quantity that `unit` measures, for example "pressure"."""
    return _row(unit)[1]


def symbol(unit):
    """How the unit is written alone: "cmH₂O"."""
    return _row(unit)[3].strip(" ")


def with_unit(number_text, unit):
    """A shown number and its unit: "8 cmH₂O", "45°"."""
    return number_text + _row(unit)[3]


def convert(value, unit, into):
    """Convert `value` from `unit` into another unit of the same quantity; the same unit changes nothing."""
    if unit == into:
        return value
    return (value - _zero(unit)) * _row(unit)[2] / _row(into)[2] + _zero(into)


def typed(text):
    """The id of the unit somebody typed after a number, or None if it is not one we know."""
    bare = "".join(text.replace("₂", "2").replace("\u00a0", "").replace(".", "").split()).lower()
    for row in UNITS:
        if bare in row[4]:
            return row[0]
    return None


def _zero(unit):
    for row in ZEROS:
        if row[0] == unit:
            return row[1]
    return 0


def _row(unit):
    for row in UNITS:
        if row[0] == unit:
            return row
    raise ValueError("no such unit: " + unit)
