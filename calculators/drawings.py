"""A drawing of a result: whole steps on a sheet, and words, so that every engine gives the same to the dot.

A formula draws in its own numbers: {"across": [low, high], "up": [low, high] or None, "points": [[kind, x, y], ...],
"lines": [[kind, x, y, x, y], ...]}. None stands for the foot or the left side of the frame. Without `up` the height
is a share, from 0 at the foot to 1 at the top.

The drawing has y from the top down: {"width", "height", "frame": [left, top, right, bottom],
"across": {"label", "ticks": [[x, words], ...]}, "up": the same or None, "points": [[kind, x, y, radius], ...],
"lines": [[kind, x, y, x, y], ...], "says": the text that stands for it}.
"""

import math

from calculators import wording
from calculators.numbers import EDGE_SLACK, plain

# A sheet is as wide as the narrowest phone has room for; words of 12 need the margins.
WIDTH = 340
TALL = 250
FLAT = 92
MARGINS = {"left": 46, "narrow": 18, "right": 18, "top": 14, "bottom": 44}
# What lies outermost keeps this share of the range off the frame.
ROOM = 0.06
MOST_TICKS = 6
STEPS = [1, 2, 5, 10]
# Points on one place become one, and as they grow in number, larger: from how many on, and the radius.
RADII = [[1, 3], [2, 4], [4, 5], [10, 7]]


def drawn(drawing, shapes, numbers):
    """The drawing of a sheet, {across, up, says}, filled with a formula's shapes; numbers: what `says` may name."""
    flat = shapes["up"] is None
    height = FLAT if flat else TALL
    frame = [
        MARGINS["narrow"] if flat else MARGINS["left"],
        MARGINS["top"],
        WIDTH - MARGINS["right"],
        height - MARGINS["bottom"],
    ]
    across = _axis(shapes["across"], frame[0], frame[2], not flat)
    up = _axis([0, 1] if flat else shapes["up"], frame[3], frame[1], not flat)
    lines = []
    for kind, x, y, end_x, end_y in shapes["lines"]:
        lines.append([kind, _place(across, x), _place(up, y), _place(across, end_x), _place(up, end_y)])
    return {
        "width": WIDTH,
        "height": height,
        "frame": frame,
        "across": {"label": drawing["across"], "ticks": _ticks(across)},
        "up": None if flat else {"label": drawing["up"], "ticks": _ticks(up)},
        "points": _gathered([[kind, _place(across, x), _place(up, y)] for kind, x, y in shapes["points"]]),
        "lines": lines,
        "says": wording.fill(drawing["says"], numbers),
    }


def _axis(ends, first, last, roomy):
    """A range of numbers laid between two places of the sheet."""
    low, high = ends
    spare = (high - low) * ROOM if roomy else 0
    return {"low": low - spare, "high": high + spare, "first": first, "last": last}


def _place(axis, number):
    """The nearest whole step to a number, as an integer; where an axis begins for None."""
    if number is None:
        return axis["first"]
    share = (number - axis["low"]) / (axis["high"] - axis["low"])
    return math.floor(axis["first"] + share * (axis["last"] - axis["first"]) + 0.5 + EDGE_SLACK)


def _ticks(axis):
    """Round numbers along an axis: [[place, words], ...]."""
    span = axis["high"] - axis["low"]
    power = math.floor(math.log10(span / MOST_TICKS) + EDGE_SLACK)
    unit = 10**power if power >= 0 else 1 / 10**-power
    step = unit * min([size for size in STEPS if span / (unit * size) <= MOST_TICKS + EDGE_SLACK])
    found = []
    count = math.ceil(axis["low"] / step - EDGE_SLACK)
    while count * step <= axis["high"] + EDGE_SLACK:
        found.append([_place(axis, count * step), plain(count * step)])
        count = count + 1
    return found


def _gathered(points):
    """Points on one place as one, with a radius that tells how many, in the order they first come."""
    places = []
    counts = {}
    for kind, x, y in points:
        place = (kind, x, y)
        if place not in counts:
            places.append(place)
            counts[place] = 0
        counts[place] += 1
    return [[kind, x, y, _radius(counts[(kind, x, y)])] for kind, x, y in places]


def _radius(count):
    radius = 0
    for least, size in RADII:
        if count >= least:
            radius = size
    return radius
