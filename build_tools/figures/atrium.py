"""The two levels of the right atrium below the sternal angle, to scale, with the trunk at four angles.

By custom it lies 5 cm below in every posture; computed tomography found the middle of it 5.4 cm below in people lying
flat, and by geometry 8.0, 9.7 and 9.8 cm at 30, 45 and 60 degrees: seth2002, abstract. Those levels are drawn as
printed; how far along the trunk the middle of the atrium lies follows from them and is ours.
"""

from __future__ import annotations

import math

from build_tools.figures.drawing import Point, label, spot, stroke
from build_tools.figures.neck import BACK, OUTLINE
from build_tools.figures.svg import element, picture, smooth
from build_tools.figures.traces import small

SCALE = 3.1  # drawn units a centimetre
CUSTOM = 5.0  # cm
DISTANCES = {0: 5.4, 30: 8.0, 45: 9.7, 60: 9.8}  # trunk angle in degrees: cm
BEHIND = DISTANCES[0]  # cm, from the front of the chest to the middle of the atrium: what was measured lying flat
# Lying flat the levels do not say how far along it lies; this much fits the two steepest.
ALONG_WHEN_FLAT = 8.2
# Where the sternal angle of each panel lies on the sheet.
PLACES: dict[int, Point] = {0: (112.0, 60.0), 30: (290.0, 60.0), 45: (128.0, 234.0), 60: (290.0, 234.0)}
LEFT, RIGHT = 60.0, 48.0  # how far the level lines run from the sternal angle


def levels(prefix: str) -> str:
    """Draw the trunk at each angle with both levels below the sternal angle."""
    told = ", ".join(f"{distance:.1f} cm at {angle} degrees" for angle, distance in DISTANCES.items())
    return picture(
        340, 374, *(_panel(angle) for angle in DISTANCES),
        stroke((6, 328), (34, 328), width=1.6, dashed=True, class_="drawn-soft"),
        label((42, 332), f"sternal angle and, below it, custom: {CUSTOM:g} cm"),
        stroke((6, 348), (34, 348), width=2.6, class_="drawn-accent"),
        label((42, 352), "middle of the atrium by tomography"),
        small((42, 368), "measured lying flat, calculated for the rest"),
        prefix=prefix,
        title="Right atrium below the sternal angle, by trunk angle",
        description=(
            "Four patients seen from their right, head to the left on the sheet, the trunk flat and at 30, 45 and 60 "
            "degrees, to scale. A dashed line runs level through the sternal angle, another 5 cm below it: the "
            "customary level of the right atrium, the same in every posture. A solid line runs through the middle of "
            f"the atrium by computed tomography: {told}. With the trunk raised the customary sum leaves out 3 to 5 cm."
        ),
        class_="drawing",
    )


def middle_of_atrium(angle: int) -> Point:
    """Give the middle of the atrium as (along the trunk, in front of the sternal angle), in centimetres."""
    turn = math.radians(angle)
    if angle == 0:
        return -ALONG_WHEN_FLAT, -BEHIND
    return -(DISTANCES[angle] - BEHIND * math.cos(turn)) / math.sin(turn), -BEHIND


def _panel(angle: int) -> str:
    x0, y0 = PLACES[angle]
    turn = math.radians(angle)

    def at(point: Point) -> Point:
        along, front = point
        return (x0 - SCALE * (along * math.cos(turn) - front * math.sin(turn)),
                y0 - SCALE * (along * math.sin(turn) + front * math.cos(turn)))

    atrium = at(middle_of_atrium(angle))
    custom, measured = y0 + CUSTOM * SCALE, y0 + DISTANCES[angle] * SCALE
    left, right = x0 - LEFT, x0 + RIGHT
    return "".join([
        element("path", d=smooth([at(point) for point in OUTLINE]), class_="drawn-body", fill="none",
                stroke="currentColor", stroke_width=1.2),
        stroke(at((-14, BACK)), at((35, BACK)), width=3, class_="drawn-trunk"),
        stroke((left, y0), (right, y0), width=1.2, dashed=True, class_="drawn-soft drawn-angle-level"),
        stroke((left, custom), (right, custom), width=1.2, dashed=True, class_="drawn-soft drawn-custom-level"),
        stroke((left, measured), (right, measured), width=2, class_="drawn-accent drawn-atrium-level"),
        element("circle", cx=atrium[0], cy=atrium[1], r=5, class_="drawn-accent drawn-spot drawn-atrium",
                fill="currentColor", stroke="#fff", stroke_width=1.4),
        spot((x0, y0), 3.6),
        label((right, y0 - 8), f"{angle}°", "end", bold=True),
        label((right, measured + 14), f"{DISTANCES[angle]:.1f} cm", "end", bold=True),
    ])
