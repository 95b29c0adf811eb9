"""Neck veins: the height of the venous pulsation, measured straight up from the sternal angle.

Drawn to scale from centimetres. The trunk lies at an angle to the floor; a place on it is given by how far it is
along the trunk towards the head and how far in front of (or, negative, behind) the level of the sternal angle.
"""

from __future__ import annotations

import math

from build_tools.figures.drawing import Point, label, leader, spot, stroke
from build_tools.figures.svg import element, lines, number, picture, smooth

WIDTH = 340.0  # of the sheet
SCALE = 5.6  # drawn units a centimetre
ORIGIN: Point = (80.0, 152.0)  # the sternal angle on the sheet
BACK = -21.0  # the backrest, behind the sternal angle

# The outline from the front of the chest over the face to the back: (along the trunk, in front), in centimetres.
OUTLINE: list[Point] = [
    (-14, 2), (-7, 2.2), (0, 0), (4, -1.6), (6, -3.4), (9, -4.2), (13, -4.4), (16, -3.4), (17.4, -0.4), (20, 0),
    (21.4, -0.4), (23, 1.8), (25, -0.2), (28, -0.8), (32, -3.6), (34.5, -8.5), (33, -14.5), (28.5, -18), (23, -17.5),
    (19, -15), (14.5, -13.6), (10, -15), (5, -19), (-2, -20.6), (-14, -20.6),
]
VEIN: tuple[Point, Point] = ((5, -5), (18, -9.5))


def height_at_angle(prefix: str, angle: float = 45.0, height: float = 4.0) -> str:
    """Draw the trunk at `angle` degrees and a venous pulsation `height` cm above the sternal angle."""
    top = _top_of_pulsation(angle, height)
    hinge, head_end = _placed((-14, BACK), angle), _placed((36, BACK), angle)
    ruler_top = _up(11.5)
    level = ORIGIN[1] - height * SCALE
    drawn = [
        element("path", d=smooth([_placed(point, angle) for point in OUTLINE]), class_="drawn-body", fill="none",
                stroke="currentColor", stroke_width=1.4),
        stroke(hinge, head_end, width=4, class_="drawn-backrest"),
        stroke((hinge[0] - 90, hinge[1]), hinge, width=4),
        stroke(hinge, (hinge[0] + 130, hinge[1]), dashed=True, class_="drawn-floor"),
        _arc(hinge, angle, 62),
        stroke(_placed(VEIN[0], angle), top, width=6, class_="drawn-accent"),
        stroke(top, _placed(VEIN[1], angle), width=1.4, dashed=True, class_="drawn-accent"),
        _upright_ruler(ruler_top),
        stroke((ORIGIN[0] - 12, level), (top[0] + 8, level), width=2.4, class_="drawn-card"),
        spot(ORIGIN, 4),
        spot(top, 4.5),
        leader((ORIGIN[0] + 16, ORIGIN[1] + 13), (ORIGIN[0] + 3, ORIGIN[1] + 3)),
        leader((136, 42), (top[0] - 2, top[1] - 7)),
        stroke((50, ORIGIN[1]), (50, level), width=2, class_="drawn-height"),
        _ends(50, level, ORIGIN[1]),
    ]
    # Drawn with the head to the right, then turned over: the examiner sees the right side of the neck.
    words = [
        ((hinge[0] + 70, hinge[1] - 18), f"{angle:g}°", True),
        ((ORIGIN[0] + 14, ORIGIN[1] + 24), "sternal angle", False),
        ((8, 62), "ruler, upright|to the floor", False), ((8, level - 26), "card,|level", False),
        ((256, 186), "backrest", False), ((104, 24), "top of the|pulsation", False),
        ((8, (level + ORIGIN[1]) / 2 + 5), f"{height:g} cm", True),
    ]
    return picture(
        WIDTH, 304,
        element("g", *drawn, transform=f"translate({WIDTH:g} 0) scale(-1 1)"),
        *(label((WIDTH - x, y), told, "end", bold=bold) for (x, y), told, bold in words),
        prefix=prefix,
        title=f"Height of the venous pulsation with the trunk at {angle:g} degrees",
        description=(
            f"A patient, seen from the right, lies with the trunk at {angle:g} degrees. A ruler stands on the "
            "sternal angle, upright to the floor and not to the chest. A card is held level from the top of the venous "
            f"pulsation in the neck to the ruler, and meets it at {height:g} cm. The way along the neck is "
            "longer than this height."
        ),
        class_="drawing",
    )


def _placed(point: Point, angle: float) -> Point:
    """Give the place on the sheet of a point of the trunk (along, in front), in centimetres."""
    turn = math.radians(angle)
    along, front = point
    x = along * math.cos(turn) - front * math.sin(turn)
    y = along * math.sin(turn) + front * math.cos(turn)
    return ORIGIN[0] + x * SCALE, ORIGIN[1] - y * SCALE


def _top_of_pulsation(angle: float, height: float) -> Point:
    """Find where the vein reaches a height above the sternal angle. Raises ValueError when that is not in the neck."""
    start, end = (_placed(point, angle) for point in VEIN)
    wanted = ORIGIN[1] - height * SCALE
    share = (wanted - start[1]) / (end[1] - start[1])
    if not 0 <= share <= 1:
        raise ValueError(f"At {angle:g}° a height of {height:g} cm lies outside the neck. Choose another angle.")
    return start[0] + share * (end[0] - start[0]), wanted


def _up(centimetres: float) -> Point:
    return ORIGIN[0], ORIGIN[1] - centimetres * SCALE


def _upright_ruler(top: Point) -> str:
    x, y = top
    strokes = []
    for millimetres in range(0, 115, 5):
        at = ORIGIN[1] - millimetres / 10 * SCALE
        strokes.append((x, at, x - (7 if millimetres % 10 == 0 else 4), at))
    return (
        element("rect", x=x - 20, y=y, width=20, height=ORIGIN[1] - y, class_="drawn-wood", fill="none",
                stroke="currentColor")
        + element("path", d=lines(strokes), stroke="currentColor", stroke_width=0.8, class_="drawn-ruler-ticks")
    )


def _ends(x: float, top: float, bottom: float) -> str:
    return element("path", d=lines([(x - 4, top, x + 4, top), (x - 4, bottom, x + 4, bottom)]),
                   stroke="currentColor", stroke_width=1.4)


def _arc(centre: Point, angle: float, radius: float) -> str:
    end = (centre[0] + radius * math.cos(math.radians(angle)), centre[1] - radius * math.sin(math.radians(angle)))
    way = (
        f"M{number(centre[0] + radius)} {number(centre[1])}"
        f"A{number(radius)} {number(radius)} 0 0 0 {number(end[0])} {number(end[1])}"
    )
    return element("path", d=way, fill="none", stroke="currentColor", stroke_width=1.4, class_="drawn-angle")
