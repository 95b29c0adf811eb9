"""The back of a right eye in high blood pressure: the four old grades, and the newer words for them.

Grades: keith1939, quoted in grosso2005, Table 2. Words of 2004: wong2004, quoted in grosso2005, Table 3. Schematics:
signs are drawn larger than life, and widths are ours.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from build_tools.figures.drawing import Point, label
from build_tools.figures.svg import element, picture, smooth
from build_tools.figures.traces import small

RADIUS = 66.0
DISC: Point = (22.0, 0.0)  # the disc of a right eye lies on the nasal side, right on the sheet
MACULA: Point = (-26.0, 4.0)
VEIN = 3.6


@dataclass(frozen=True)
class Grade:
    """A grade: name, the word of 2004, the width of arteries as a share of the veins', and the signs it has."""

    name: str
    word: str
    told: str
    width: float
    nicking: bool = False
    shine: bool = False
    bleeding: bool = False
    swollen: bool = False


GRADES = (
    Grade("No retinopathy", "none", "veins a little wider", 0.75),
    Grade("Grade I", "mild", "arteries narrow throughout", 0.45),
    Grade("Grade II", "mild", "nipped veins, bright reflex", 0.45, nicking=True, shine=True),
    Grade("Grade III", "moderate", "bleeds, wool spots, exudate", 0.4, nicking=True, shine=True, bleeding=True),
    Grade("Grade IV", "malignant", "as III, and a swollen disc", 0.4, nicking=True, shine=True, bleeding=True,
          swollen=True),
)
# The four arcades from the disc: veins; arteries run beside them and cross once.
VEINS: list[list[Point]] = [
    [(22, -4), (14, -24), (-8, -40), (-36, -44)], [(22, 4), (14, 26), (-8, 42), (-34, 46)],
    [(24, -4), (34, -22), (44, -40)], [(24, 4), (36, 20), (46, 38)],
]
ARTERIES: list[list[Point]] = [
    [(21, -4), (19, -26), (-10, -33), (-38, -52)], [(21, 4), (20, 28), (-10, 35), (-36, 54)],
    [(25, -4), (29, -24), (50, -34)], [(25, 4), (31, 24), (52, 30)],
]
CROSSINGS: list[Point] = [(-3, -36), (-3, 38)]


def fundus_grades(prefix: str) -> str:
    """Draw a normal fundus and the four grades, with a key."""
    drawn = []
    for index, grade in enumerate(GRADES):
        left, top = 4 + (index % 2) * 172.0, (index // 2) * 190.0
        drawn += [
            label((left, top + 13), grade.name, bold=True), small((left + 158, top + 13), grade.word, "end"),
            small((left, top + 28), grade.told), _fundus(grade, (left + 79, top + 38 + RADIUS)),
        ]
    told = "; ".join(f"{grade.name}, in the newer words {grade.word}: {grade.told}" for grade in GRADES)
    return picture(
        340, 560, *drawn, _key((182, 400)),
        prefix=prefix,
        title="The back of the eye in high blood pressure",
        description=f"Five schematic views of a right eye. {told}. Signs are drawn larger than life.",
        class_="drawing",
    )


def _fundus(grade: Grade, centre: Point) -> str:
    def at(point: Point) -> Point:
        return centre[0] + point[0], centre[1] + point[1]

    artery = VEIN * grade.width
    parts = [
        element("circle", cx=centre[0], cy=centre[1], r=RADIUS, class_="fundus-ground", fill="none",
                stroke="currentColor", stroke_width=1.4),
        element("circle", cx=at(MACULA)[0], cy=at(MACULA)[1], r=6, class_="fundus-macula", fill="none"),
        _disc(at(DISC), grade.swollen),
        *(_vessel([at(point) for point in vein], VEIN, "fundus-vein") for vein in VEINS),
    ]
    if grade.nicking:
        # The vein seems to stop short on both sides of the artery.
        parts += [element("circle", cx=at(place)[0], cy=at(place)[1], r=3.6, class_="fundus-nick", fill="none")
                  for place in CROSSINGS]
    parts += [_vessel([at(point) for point in one], artery, "fundus-artery") for one in ARTERIES]
    if grade.shine:
        parts += [_vessel([at(point) for point in one], 0.6, "fundus-shine") for one in ARTERIES]
    if grade.bleeding:
        parts += [_flame(at(place), turn) for place, turn in (((-6, -20), 40), ((36, -8), -60), ((2, 50), 10))]
        parts += [_wool(at(place)) for place in ((-30, -30), (8, 20))]
        parts += [element("circle", cx=at(place)[0], cy=at(place)[1], r=1.9, class_="fundus-exudate", fill="none",
                          stroke="currentColor", stroke_width=0.5)
                  for place in ((-38, 10), (-33, 14), (-41, 16), (-36, 20), (-29, 18))]
    return "".join(parts)


def _disc(at: Point, swollen: bool) -> str:
    """Draw the disc: a sharp edge, or a wide ring of fading ones."""
    rings = ((15.0, "1 3"), (12.5, "3 2")) if swollen else ()
    return "".join(
        element("circle", cx=at[0], cy=at[1], r=radius, class_="fundus-disc fundus-blurred", fill="none",
                stroke="currentColor", stroke_width=1, stroke_dasharray=dashes)
        for radius, dashes in rings
    ) + element("circle", cx=at[0], cy=at[1], r=10, class_="fundus-disc", fill="none",
                stroke="none" if swollen else "currentColor", stroke_width=1.2)


def _vessel(points: list[Point], width: float, class_: str) -> str:
    return element("path", d=smooth(points), class_=class_, fill="none", stroke="currentColor", stroke_width=width,
                   stroke_linecap="round")


def _flame(at: Point, turn: float) -> str:
    """Draw a flame-shaped haemorrhage that points along the nerve fibres."""
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    shape = [(-9, 0), (-3, -3), (4, -2.4), (9, -3.6), (6, 0), (10, 2.6), (3, 2.4), (-3, 3)]
    return element("path", d=smooth([(at[0] + x * c - y * s, at[1] + x * s + y * c) for x, y in shape], close=True),
                   class_="fundus-bleed", fill="currentColor")


def _wool(at: Point) -> str:
    """Draw a cotton-wool spot: white, with a soft edge."""
    return "".join(
        element("ellipse", cx=at[0] + x, cy=at[1] + y, rx=rx, ry=ry, class_="fundus-wool", fill="none")
        for x, y, rx, ry in ((0, 0, 6, 4), (4, 2, 4, 3), (-4, 1.6, 3.6, 2.6))
    )


def _key(at: Point) -> str:
    x, y = at
    rows = (
        (_vessel([(x, y), (x + 22, y)], VEIN, "fundus-vein"), "vein"),
        (_vessel([(x, y + 20), (x + 22, y + 20)], VEIN * 0.75, "fundus-artery"), "artery"),
        (_flame((x + 11, y + 40), 0), "flame haemorrhage"),
        (_wool((x + 11, y + 60)), "cotton-wool spot"),
        ("".join(element("circle", cx=x + 5 + 6 * index, cy=y + 80, r=2, class_="fundus-exudate", fill="none",
                         stroke="currentColor", stroke_width=0.5) for index in range(3)), "hard exudate"),
    )
    # Colours of the retina tell apart on its own ground only, whatever the page's.
    ground = element("rect", x=x - 5, y=y - 12, width=32, height=104, rx=3, class_="fundus-ground", fill="none",
                     stroke="currentColor", stroke_width=1)
    return ground + "".join(
        mark + label((x + 34, y + 4 + 20 * index), words) for index, (mark, words) in enumerate(rows))
