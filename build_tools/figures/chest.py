"""The front of the chest to scale: listening areas and where murmurs spread, the apex beat, scars and devices.

Drawn from centimetres on an adult chest of our own. Listening areas: physionet2016, introduction. Where murmurs
spread: perloff2009, from memory. Apex: 4th or 5th space, inside the mid-clavicular line, within 10 cm of the
midline, at most 3 cm across: common practice; mid-clavicular line as the landmark: mcgee2018, chapter 38.
Scars and devices: common practice.
"""

from __future__ import annotations

from itertools import pairwise

from build_tools.figures.drawing import Point, body, label, leader, stroke
from build_tools.figures.svg import element, lines, number, path, picture, smooth
from build_tools.figures.traces import small

SCALE = 7.4  # drawn units a centimetre
MIDLINE, NOTCH = 170.0, 66.0  # the notch above the breastbone on the sheet
MID_CLAVICULAR = 9.0  # cm from the midline
ANTERIOR_AXILLARY = 13.2

# Each rib: where it meets the breastbone (cm below the notch) and how far it sags on its way out.
RIBS = {1: (2.2, -0.6), 2: (4.5, 0.3), 3: (7.0, 0.6), 4: (9.2, 1.1), 5: (11.2, 1.7), 6: (12.9, 2.3), 7: (14.2, 3.3)}
WALL = 15.0  # cm from the midline to the side of the chest

# The outline on the patient's left, from the jaw to the flank, as (cm from the midline, cm below the notch).
HALF: list[Point] = [
    (4.7, -8.0), (5.0, -5.6), (5.6, -3.6), (9.0, -2.2), (15.0, -0.8), (18.4, 1.4), (19.9, 5.0), (20.4, 10.0),
    (20.6, 16.0), (20.6, 20.4),
]
ARM_INSIDE: list[Point] = [(16.6, 7.6), (16.4, 11.0), (16.0, 15.0), (15.4, 20.4)]


def at(side: float, down: float) -> Point:
    """Give the place on the sheet of a point: centimetres from the midline (the patient's left is positive, to the
    right on the sheet) and below the notch."""
    return MIDLINE + side * SCALE, NOTCH + down * SCALE


def rib(count: int, out: float) -> float:
    """Give how far below the notch a rib lies, `out` centimetres from the midline."""
    start, sag = RIBS[count]
    share = max(0.0, (out - 2) / (WALL - 2))
    # It sags most below the middle of the collarbone and rises again to the side.
    return start + sag * 4 * min(share, 0.5) * (1 - min(share, 0.5)) - (0 if share < 0.5 else (share - 0.5) * 1.6)


def space(count: int, out: float) -> Point:
    """Give the middle of a rib space on the patient's left, `out` centimetres from the midline (right: negative)."""
    down = (rib(count, abs(out)) + rib(count + 1, abs(out))) / 2
    return at(out, down)


def _chest(ribs: bool = True) -> str:
    """Draw neck, shoulders, arms, collarbones, breastbone and, thinly, the ribs."""
    left = [at(*point) for point in HALF]
    right = [at(-x, y) for x, y in HALF]
    outline = body(smooth(left) + "L" + " ".join(number(part) for part in right[-1])
                   + smooth(list(reversed(right))).replace("M", "L", 1) + "Z")
    arms = "".join(
        element("path", d=smooth([at(side * x, y) for x, y in ARM_INSIDE]), fill="none", stroke="currentColor",
                stroke_width=1.2, class_="drawn-soft")
        for side in (1, -1)
    )
    collarbones = "".join(
        element("path", d=smooth([at(side * 1.6, 0.4), at(side * 6, -0.7), at(side * 11, -1.0), at(side * 16, 0.0)]),
                fill="none", stroke="currentColor", stroke_width=3.2, stroke_linecap="round", class_="drawn-soft")
        for side in (1, -1)
    )
    sternum = [(-2.4, 0.4), (2.4, 0.4), (2.2, 4.4), (1.7, 5.0), (1.9, 11.0), (1.3, 14.6), (0.3, 16.6), (-0.3, 16.6),
               (-1.3, 14.6), (-1.9, 11.0), (-1.7, 5.0), (-2.2, 4.4)]
    bone = element("path", d=path(*(at(*point) for point in sternum), close=True), fill="none", stroke="currentColor",
                   stroke_width=1.2, stroke_linejoin="round", class_="drawn-soft")
    angle = element("path", d=lines([(*at(-2.2, 4.5), *at(2.2, 4.5))]), stroke="currentColor", stroke_width=1.6,
                    class_="drawn-sternal-angle")
    drawn = "".join(_rib(count, side) for count in RIBS for side in (1, -1)) if ribs else ""
    sides = small((36, 118), "right", "middle") + small((304, 118), "left", "middle")
    return outline + sides + arms + drawn + collarbones + bone + angle


def _rib(count: int, side: float) -> str:
    outs = (2.0, 4.5, 7.0, 9.5, 12.0, WALL if count > 1 else 8.0)
    points = [at(side * out, rib(count, out)) for out in outs if count > 1 or out <= 8]
    return element("path", d=smooth(points), fill="none", stroke="currentColor", stroke_width=1, class_="drawn-rib")


# ---- Listening areas and spread ----

AREAS = {
    "aortic": ("Aortic", space(2, -3.3)),
    "pulmonary": ("Pulmonary", space(2, 3.3)),
    "tricuspid": ("Tricuspid", space(4, 3.3)),
    "mitral": ("Mitral", space(5, MID_CLAVICULAR)),
}


def listening_areas(prefix: str) -> str:
    """Draw the four areas, and arrows where murmurs spread."""
    discs = [
        element("circle", cx=x, cy=y, r=1.2 * SCALE, class_="drawn-area drawn-accent", fill="none",
                stroke="currentColor", stroke_width=2) + label((x, y + 4.5), name[0], "middle", bold=True)
        for name, (x, y) in AREAS.values()
    ]
    aortic, pulmonary, _, mitral = (place for _, place in AREAS.values())
    arrows = [
        _arrow([(aortic[0] - 4, aortic[1] - 13), at(-4.2, -1.0), at(-3.9, -6.4)]),
        _arrow([(pulmonary[0] + 12, pulmonary[1] - 4), at(8.0, 2.6), at(13.6, 0.8)]),
        _arrow([(mitral[0] + 12, mitral[1] - 1), at(13.0, 13.4), at(16.2, 10.6)]),
        _arrow([(aortic[0] + 10, aortic[1] + 2), at(0.6, 7.2), at(1.8, 9.0), at(1.8, 13.6)], dashed=True),
    ]
    return picture(
        340, 306, _chest(), *arrows, *discs,
        label((4, 242), "A|P|T|M", bold=True),
        label((22, 242), "aortic: stenosis to the neck, leak down left edge|pulmonary: stenosis to the left shoulder|"
              "tricuspid: stays beside the breastbone|mitral: leak to the armpit"),
        prefix=prefix,
        title="Listening areas and where murmurs spread",
        description=(
            "The front of the chest; left on the sheet is the patient's right. A: right second space beside the "
            "breastbone. P: left second space. T: left fourth space. M: the apex, fifth space at the mid-clavicular "
            "line. Arrows: aortic stenosis spreads to the neck, pulmonary stenosis to the left shoulder, a mitral leak "
            "to the armpit, an aortic leak down the left edge of the breastbone."
        ),
        class_="drawing",
    )


def _arrow(points: list[Point], dashed: bool = False) -> str:
    """Draw a bent arrow through the points."""
    (x0, y0), (x1, y1) = points[-2], points[-1]
    long = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
    ux, uy = (x1 - x0) / long, (y1 - y0) / long
    foot = (x1 - 8 * ux, y1 - 8 * uy)
    head = [(foot[0] + 4.5 * uy, foot[1] - 4.5 * ux), (x1, y1), (foot[0] - 4.5 * uy, foot[1] + 4.5 * ux)]
    return element("path", d=smooth(points), fill="none", stroke="currentColor", stroke_width=2.2,
                   stroke_dasharray="5 4" if dashed else None, class_="drawn-accent") + element(
        "path", d=path(*head), fill="none", stroke="currentColor", stroke_width=2.2, stroke_linejoin="round",
        stroke_linecap="round", class_="drawn-accent")


def _tag(words_at: Point, words: str, to: Point, start: Point) -> str:
    """Write a label and lead from `start` to what it names."""
    return leader(start, to) + label(words_at, words)


# ---- The apex beat ----

APEX_WIDE = 3.0  # cm: a beat is no wider in health
APEX_LIMIT = 10.0  # cm from the midline
APEX = space(5, 7.4)
DISPLACED = space(6, 12.4)


def apex_landmarks(prefix: str) -> str:
    """Draw the rib spaces, the lines and a beat in its place and out of it."""
    spaces = [label((x, y + 4), str(count), "middle", bold=True)
              for count, (x, y) in ((count, space(count, 3.3)) for count in (2, 3, 4, 5))]
    return picture(
        340, 310, _chest(),
        _upright(MID_CLAVICULAR, -1.4, 18.6, "drawn-mid-clavicular"),
        _upright(ANTERIOR_AXILLARY, 6.0, 18.6, "drawn-axillary"),
        _upright(0, 1, 18.6, "drawn-midline"),
        *spaces,
        element("circle", cx=APEX[0], cy=APEX[1], r=APEX_WIDE / 2 * SCALE, class_="drawn-apex drawn-accent",
                fill="none", stroke="currentColor", stroke_width=2.4),
        element("circle", cx=DISPLACED[0], cy=DISPLACED[1], r=1.4 * APEX_WIDE / 2 * SCALE, class_="drawn-displaced",
                fill="none", stroke="currentColor", stroke_width=1.8, stroke_dasharray="5 4"),
        stroke(at(0, 18), at(APEX_LIMIT, 18), width=2, class_="drawn-limit"),
        stroke(at(0, 17.6), at(0, 18.4), width=2), stroke(at(APEX_LIMIT, 17.6), at(APEX_LIMIT, 18.4), width=2),
        label((MIDLINE - 6, at(0, 18)[1] + 5), f"{APEX_LIMIT:g} cm", "end", bold=True),
        _tag((4, 32), "sternal angle:|second rib", at(-2.2, 4.5), (58, 52)),
        _tag((226, 14), "mid-clavicular line", at(MID_CLAVICULAR, -1.4), (250, 20)),
        _ring((12, 252), "drawn-key drawn-accent"), label((28, 256), "normal beat: 4th or 5th space, inside the line"),
        _ring((12, 274), "drawn-key", dashed=True), label((28, 278), "displaced: outside the line, or lower"),
        label((28, 300), "outermost dashed line: front fold of the armpit"),
        prefix=prefix,
        title="Landmarks of the apex beat",
        description=(
            "The front of the chest; left on the sheet is the patient's right. The second rib joins the breastbone at "
            "the sternal angle; the spaces are numbered from there. The normal apex beat lies in the fourth or fifth "
            "left space, inside the mid-clavicular line and within 10 cm of the midline, and is at most 3 cm wide. A "
            "displaced one, dashed, lies outside that line or lower."
        ),
        class_="drawing",
    )


def _ring(place: Point, class_: str, dashed: bool = False) -> str:
    return element("circle", cx=place[0], cy=place[1], r=8, class_=class_, fill="none", stroke="currentColor",
                   stroke_width=2, stroke_dasharray="5 4" if dashed else None)


def _upright(out: float, top: float, bottom: float, class_: str) -> str:
    return stroke(at(out, top), at(out, bottom), dashed=True, width=1.2, class_=class_)


# ---- Scars and devices ----


def scars_and_devices(prefix: str) -> str:
    """Draw common scars, and where devices lie, numbered with a key."""
    scars = [
        [at(0, 0.8), at(0, 16.2)],
        [at(4.5, 14.8), at(9, 16.0), at(13, 14.6), at(15.6, 11.6)],
        [at(-5.0, 12.6), at(-9, 13.6), at(-12.6, 12.6)],
    ]
    box = at(6.6, 1.4)
    side = at(14.2, 14.6)
    numbers = [(at(-4.2, 9.6), "1"), (at(7.8, 17.0), "2"), (at(-8.4, 15.0), "3"), (at(9.0, 3.2), "4"),
               (at(15.9, 16.9), "5"), (at(-8.9, 3.2), "6")]
    return picture(
        340, 348, _chest(ribs=False),
        *(element("path", d=smooth(scar), fill="none", stroke="currentColor", stroke_width=2.6, class_="drawn-scar "
                  "drawn-accent", stroke_linecap="round") + _stitches(scar) for scar in scars),
        _device(box, 4.6, 3.6), _device(side, 3.4, 4.6), _device((at(-11.2, 1.4)[0], box[1]), 4.6, 3.6, dashed=True),
        # The lead crosses behind the breastbone to the upper vena cava on the right, then goes left to the apex.
        element("path", d=smooth([(box[0] + 4, box[1] + 4), at(5.2, 0.6), at(1.0, 2.0), at(-2.2, 4.0), at(-2.6, 8.6),
                                  at(-0.8, 11.8), at(4.2, 13.6)]),
                fill="none", stroke="currentColor", stroke_width=1.4, stroke_dasharray="2 3", class_="drawn-lead"),
        element("path", d=smooth([side, at(9, 16.8), at(2.6, 15.6), at(2.6, 5.6)]), fill="none", stroke="currentColor",
                stroke_width=1.4, stroke_dasharray="2 3", class_="drawn-lead"),
        *(element("circle", cx=x, cy=y, r=9, class_="drawn-number", fill="none", stroke="currentColor", stroke_width=1)
          + label((x, y + 4.5), words, "middle", bold=True) for (x, y), words in numbers),
        label((4, 242), "1|2||3|4|5||6", bold=True),
        label((20, 242), "midline: bypass, valve, root, transplant|under the left breast or round the side: duct,|"
              "coarctation, mitral valvotomy|right side: mitral, tricuspid or septal surgery|"
              "pacemaker or defibrillator|defibrillator under the skin, its lead beside the|breastbone|"
              "pacemaker or defibrillator on the right side"),
        prefix=prefix,
        title="Scars and devices of the chest",
        description=(
            "The front of the chest; left on the sheet is the patient's right. 1, midline scar: bypass, valve, root or "
            "transplant surgery. 2, scar under the left breast or round the side: duct, coarctation or closed mitral "
            "valvotomy. 3, scar on the right side: mitral, tricuspid or septal surgery by a small opening. 4, "
            "pacemaker or defibrillator below the left collarbone, its dotted lead down the right edge of the "
            "breastbone and then left into the heart. 5, defibrillator under the "
            "skin of the left side, its lead beside the breastbone. 6, the right side is used too."
        ),
        class_="drawing",
    )


def _device(corner: Point, wide: float, tall: float, dashed: bool = False) -> str:
    return element("rect", x=corner[0], y=corner[1], width=wide * SCALE, height=tall * SCALE, rx=9,
                   class_="drawn-device", fill="none", stroke="currentColor", stroke_width=1.6,
                   stroke_dasharray="5 4" if dashed else None)


def _stitches(scar: list[Point]) -> str:
    """Cross a scar with short strokes, so that it does not read as a line of the body."""
    strokes = []
    for (x0, y0), (x1, y1) in pairwise(scar):
        long = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
        ux, uy = (x1 - x0) / long, (y1 - y0) / long
        for index in range(1, int(long // 14) + 1):
            x, y = x0 + ux * index * 14, y0 + uy * index * 14
            strokes.append((x - 4 * uy, y + 4 * ux, x + 4 * uy, y - 4 * ux))
    return element("path", d=lines(strokes), stroke="currentColor", stroke_width=1.2, class_="drawn-accent")
