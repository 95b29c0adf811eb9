"""Legs: pits of oedema to scale, and the leg elevation test at its angle, with soles in two tones of skin.

Pit depths: one common scale, from memory (brodovicz2009 confirms only that examiners agreed poorly). Leg elevation:
60 degrees, up to 2 minutes up and 2 minutes down: wright2017, description of the test.
"""

from __future__ import annotations

import math

from build_tools.figures.drawing import Point, label, limb, stroke
from build_tools.figures.svg import element, number, path, picture, smooth
from build_tools.figures.traces import small

# ---- Pits ----

PIT_SCALE = 5.0  # drawn units a millimetre
PITS = ((1, 2.0, "up to 2 mm, gone at once"), (2, 4.0, "2 to 4 mm, 10 to 15 s"), (3, 6.0, "4 to 6 mm, a minute"),
        (4, 8.0, "6 to 8 mm, 2 to 5 min"))


def pitting(prefix: str) -> str:
    """Draw the four grades of one scale as cuts through skin and shin, each pit to its greatest depth."""
    panels = [_pit(*pit, 4 + (index % 2) * 172.0, (index // 2) * 146.0) for index, pit in enumerate(PITS)]
    told = "; ".join(f"grade {grade}: {words}" for grade, _, words in PITS)
    return picture(
        340, 288, *panels,
        prefix=prefix,
        title="Depth of the pit in oedema, to scale",
        description=(
            "Four cuts through the skin over the shin bone after a thumb has pressed, the pit of each grade drawn at "
            f"its greatest depth on one scale of millimetres. {told[0].upper()}{told[1:]}."
        ),
        class_="drawing",
    )


def _pit(grade: int, depth: float, words: str, left: float, top: float) -> str:
    wide, skin = 160.0, top + 46
    middle, half = left + wide / 2, 40.0
    floor = skin + depth * PIT_SCALE

    def layer(down: float, share: float) -> list[Point]:
        """A layer follows the pit the less the deeper it lies."""
        sunk = skin + down + depth * PIT_SCALE * share
        level = skin + down
        return [(left, level), (middle - half - 12, level), (middle - half * 0.55, level + (sunk - level) * 0.8),
                (middle, sunk), (middle + half * 0.55, level + (sunk - level) * 0.8), (middle + half + 12, level),
                (left + wide, level)]

    surface, under = layer(0, 1), layer(8, 0.95)
    bottom = top + 132
    tissue = smooth(under) + f"L{number(left + wide)} {number(bottom)}L{number(left)} {number(bottom)}Z"
    thick = smooth(surface) + smooth(list(reversed(under))).replace("M", "L", 1) + "Z"
    return "".join([
        label((left, top + 13), f"Grade {grade}", bold=True), small((left, top + 28), words),
        element("path", d=tissue, class_="drawn-body", fill="none"),
        element("path", d=thick, class_="drawn-skin-layer", fill="none", stroke="currentColor", stroke_width=1.2),
        element("path", d=path((left, bottom - 12), (left + wide, bottom - 12), (left + wide, bottom), (left, bottom),
                               close=True), class_="drawn-bone", fill="none", stroke="currentColor", stroke_width=1),
        small((left + 4, bottom - 2), "bone"),
        stroke((middle, skin), (middle, floor), width=2, class_="drawn-accent drawn-pit"),
        stroke((middle - 22, skin), (middle + 22, skin), width=1, dashed=True, class_="drawn-accent"),
        label((middle, floor + 24), f"{depth:g} mm", "middle", bold=True),
    ])


# ---- Leg elevation ----

RAISED = 60.0  # degrees
HIP: Point = (118.0, 156.0)
LEG = 132.0
SOLES = (("ordinary", "at rest"), ("pale", "raised: pale"), ("red", "hanging: dusky"))


def leg_elevation(prefix: str) -> str:
    """Draw both legs raised, then hanging, and what the soles do in lighter and darker skin."""
    turn = math.radians(RAISED)
    ankle = (HIP[0] + LEG * math.cos(turn), HIP[1] - LEG * math.sin(turn))
    toes = (ankle[0] - 22 * math.sin(turn), ankle[1] - 22 * math.cos(turn))
    arc_end = (HIP[0] + 46 * math.cos(turn), HIP[1] - 46 * math.sin(turn))
    soles = []
    for row, tone in enumerate(("light", "dark")):
        for column, (state, _) in enumerate(SOLES):
            soles.append(_sole((62 + column * 108, 268 + row * 94), f"sole-{tone}-{state}"))
    return picture(
        340, 466,
        stroke((4, 170), (198, 170), width=4),
        limb([(34, 157), (HIP[0], HIP[1])], 24),
        element("circle", cx=18, cy=152, r=13, class_="drawn-body", fill="none", stroke="currentColor",
                stroke_width=1.4),
        limb([HIP, ankle], 17), limb([ankle, toes], 11),
        stroke(HIP, ankle, width=1.4, class_="drawn-accent drawn-raised-leg"),
        stroke(HIP, (HIP[0] + 74, HIP[1]), width=1.4, dashed=True, class_="drawn-accent drawn-level"),
        element("path", d=f"M{number(HIP[0] + 46)} {number(HIP[1])}A46 46 0 0 0 {number(arc_end[0])} "
                          f"{number(arc_end[1])}", fill="none", stroke="currentColor", stroke_width=1.4,
                class_="drawn-accent"),
        label((HIP[0] + 47, HIP[1] - 20), f"{RAISED:g}°", bold=True),
        label((4, 14), "1  Up, to 2 min", bold=True), small((4, 30), "watch both soles"),
        stroke((228, 138), (312, 138), width=4),
        limb([(264, 66), (262, 122)], 24),
        element("circle", cx=265, cy=44, r=13, class_="drawn-body", fill="none", stroke="currentColor",
                stroke_width=1.4),
        limb([(262, 124), (310, 126)], 19), limb([(312, 128), (312, 182)], 15), limb([(312, 185), (328, 187)], 10),
        label((206, 14), "2  Down, to 2 min", bold=True), small((214, 176), "colour back?"),
        small((214, 191), "vein full?"),
        *soles,
        *(label((62 + column * 108, 218), words, "middle", bold=True) for column, (_, words) in enumerate(SOLES)),
        small((4, 420), "Darker skin: look at soles, toe pads and nail beds."),
        small((4, 436), "Pallor is greyer, redness a deeper brown or purple."),
        label((4, 458), "First pain: put the legs down.", bold=True),
        prefix=prefix,
        title="Leg elevation test",
        description=(
            "First the patient lies and both legs are raised to 60 degrees for up to 2 minutes while you watch the "
            "soles. Then the patient sits with the legs hanging for up to 2 minutes. With poor inflow the sole turns "
            "pale when raised and dusky red when hanging; soles are drawn in lighter and in darker skin, where pallor "
            "is greyer and redness a deeper brown or purple."
        ),
        class_="drawing",
    )


def _sole(at: Point, class_: str) -> str:
    """Draw the sole of a left foot, its middle at a point: heel below, toes above."""
    x, y = at
    outline: list[Point] = [
        (x - 2, y + 40), (x - 13, y + 34), (x - 14, y + 20), (x - 12, y + 4), (x - 19, y - 14), (x - 18, y - 24),
        (x - 4, y - 30), (x + 10, y - 27), (x + 18, y - 17), (x + 15, y - 2), (x + 11, y + 14), (x + 11, y + 32),
    ]
    toes = [(x - 14, y - 33, 6.5), (x - 3, y - 36, 4.4), (x + 5.5, y - 34, 4.1), (x + 13, y - 30, 3.8),
            (x + 19, y - 24, 3.5)]
    return element("path", d=smooth(outline, close=True), class_=class_, fill="none", stroke="currentColor",
                   stroke_width=1.2) + "".join(
        element("circle", cx=a, cy=b, r=r, class_=class_, fill="none", stroke="currentColor", stroke_width=1.1)
        for a, b, r in toes)
