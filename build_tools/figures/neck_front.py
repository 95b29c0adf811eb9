"""The neck from the front: veins, artery and muscle, where to look for the pulsation and where not to press.

Drawn from centimetres on an adult neck of our own. Course of vessels and muscle: common anatomy, from memory. Where to
look, from collarbone to ear lobe on the right: cooksimel_rce, chapter 11. One carotid at a time, low, and never at the
upper border of the larynx, where the carotid sinus lies: common practice.
"""

from __future__ import annotations

from build_tools.figures.drawing import Point, body, label, leader, spot, stroke
from build_tools.figures.svg import element, lines, number, path, picture, smooth

SCALE = 11.0  # drawn units a centimetre
MIDLINE, NOTCH = 163.0, 212.0  # the notch above the breastbone on the sheet
LARYNX_TOP = 7.0  # cm above the notch
FEEL = 3.4  # cm above the notch: in the lower half of the neck
COLLARBONE, EAR_LOBE = 0.8, 12.6  # cm above the notch

# The outline on the patient's left, from below the ear to the armpit: (cm from the midline, cm above the notch).
SIDE: list[Point] = [(6.3, 13.0), (6.2, 9.0), (6.5, 6.0), (7.2, 3.9), (9.4, 2.5), (13.0, 1.3), (14.0, -2.0),
                     (14.2, -6.4)]
FACE: list[Point] = [(6.7, 17.2), (6.5, 13.4), (5.4, 11.0), (3.0, 9.2), (0.9, 8.7)]
# The muscle's two heads, from the breastbone and the inner third of the collarbone, run up to the bone behind the ear.
BREASTBONE_HEAD: list[Point] = [(0.9, -0.5), (1.8, -0.1), (2.7, 2.6), (4.4, 6.4), (6.6, 11.6), (6.4, 12.6), (5.6, 11.4),
                                (3.4, 7.0), (1.9, 3.2)]
COLLARBONE_HEAD: list[Point] = [(3.2, 0.7), (5.2, 0.9), (5.7, 4.0), (6.1, 8.0), (6.7, 12.0), (6.4, 12.6), (5.2, 9.0),
                                (3.9, 5.2), (3.3, 2.8)]
INTERNAL: list[Point] = [(5.4, 12.0), (4.9, 9.6), (4.1, 6.6), (3.2, 3.4), (2.5, 0.8), (1.9, -0.8)]
EXTERNAL: list[Point] = [(5.2, 10.4), (5.5, 8.4), (5.9, 5.4), (6.2, 3.0), (6.4, 1.2)]
PULSE: Point = (1.8, FEEL)
SINUS: Point = (2.7, LARYNX_TOP)
CAROTID: list[Point] = [(1.5, -0.3), (1.6, 1.6), PULSE, (2.2, 5.4), SINUS, (3.6, 9.4), (4.5, 11.4)]


def at(side: float, up: float) -> Point:
    """Give the place on the sheet: centimetres from the midline (patient's left positive) and above the notch."""
    return MIDLINE + side * SCALE, NOTCH - up * SCALE


def neck_landmarks(prefix: str) -> str:
    """Draw the veins of the right side, and on the left where the carotid is felt and where never."""
    sinus, feel = at(*SINUS), at(*PULSE)
    top, bottom = at(-7.2, EAR_LOBE), at(-7.2, COLLARBONE)
    return picture(
        340, 332,
        _trunk(), _carotid(-1), _carotid(1), _larynx(),
        _vein([at(-x, y) for x, y in INTERNAL], 12, "drawn-internal"),
        _muscle(-1), _muscle(1), _bones(), _face(),
        _vein([at(-x, y) for x, y in EXTERNAL], 4.2, "drawn-external"),
        stroke(top, bottom, width=2, class_="drawn-look"),
        stroke((top[0] - 4, top[1]), (top[0] + 4, top[1]), width=2),
        stroke((bottom[0] - 4, bottom[1]), (bottom[0] + 4, bottom[1]), width=2),
        label((4, 74), "Look from|collarbone|to ear lobe", bold=True),
        leader((56, 130), at(-4.2, 6.8)), label((4, 126), "internal|jugular"),
        leader((60, 168), at(-6.15, 3.6)), label((4, 164), "external|jugular"),
        stroke(at(-2.6, LARYNX_TOP), at(4.4, LARYNX_TOP), width=1.2, dashed=True, class_="drawn-larynx-top"),
        leader((243, 114), (sinus[0] + 7, sinus[1] - 3)), _cross(sinus),
        label((246, 104), "Never press:|carotid sinus,|top of larynx", bold=True),
        leader((243, 167), (feel[0] + 7, feel[1])), spot(feel, 5),
        label((246, 164), "Feel low,|one side only", bold=True),
        label(at(7.2, -1.2), "collarbone", class_="drawn-soft"),
        leader((at(-3.4, -5.3)[0], at(0, -5.3)[1]), at(-2.0, -4.6)),
        label((at(-3.6, 0)[0], at(0, -5.5)[1]), "sternal angle", "end"),
        *_key(302),
        prefix=prefix,
        title="Veins, carotid and muscle of the neck",
        description=(
            "The neck from the front; left on the sheet is the patient's right. On each side the sternomastoid "
            "muscle runs from two heads, on the breastbone and on the inner third of the collarbone, up to the bone "
            "behind the ear. The internal jugular vein runs under the muscle from behind the ear lobe and is bare "
            "only in the gap between the two heads, just above the collarbone. The external jugular vein crosses "
            "over the muscle from the angle of the jaw towards the middle of the collarbone. The carotid lies nearer "
            "the midline, in the groove between larynx and muscle. Look along the right side from collarbone to ear "
            "lobe. Feel the carotid low, one side only, and never at the level of the upper border of the larynx, "
            "where the carotid sinus lies. The sternal angle, where the second ribs meet the breastbone, is the zero "
            "of the height."
        ),
        class_="drawing",
    )


def _trunk() -> str:
    left, right = [at(*point) for point in SIDE], [at(-x, y) for x, y in SIDE]
    return body(smooth(left) + "L" + " ".join(number(part) for part in right[-1])
                + smooth(list(reversed(right))).replace("M", "L", 1))


def _face() -> str:
    left, right = [at(*point) for point in FACE], [at(-x, y) for x, y in reversed(FACE)]
    jaw = element("path", d=smooth(left + right), class_="drawn-body", fill="none", stroke="currentColor",
                  stroke_width=1.4)
    ears = "".join(
        element("ellipse", cx=at(side * 7.0, 0)[0], cy=at(0, 14.8)[1], rx=0.7 * SCALE, ry=2.2 * SCALE,
                class_="drawn-body", fill="none", stroke="currentColor", stroke_width=1.4)
        for side in (1, -1)
    )
    mouth = element("path", d=smooth([at(-1.6, 11.6), at(0, 11.3), at(1.6, 11.6)]) + smooth(
        [at(-0.9, 14.2), at(0, 13.7), at(0.9, 14.2)]), class_="drawn-soft", fill="none", stroke="currentColor",
        stroke_width=1.4)
    return ears + jaw + mouth


def _larynx() -> str:
    shield = [(-1.5, 6.6), (-0.9, LARYNX_TOP), (0, 6.3), (0.9, LARYNX_TOP), (1.5, 6.6), (1.1, 4.6), (-1.1, 4.6)]
    pipe = [(*at(side * 0.9, 4.2), *at(side * 0.9, 0.2)) for side in (1, -1)]
    rings = [(*at(-0.9, up), *at(0.9, up)) for up in (4.2, 3.2, 2.2, 1.2)]
    return element("path", d=path(*(at(*point) for point in shield), close=True), fill="none", stroke="currentColor",
                   stroke_width=1.2, stroke_linejoin="round", class_="drawn-soft drawn-larynx") + element(
        "path", d=lines(pipe + rings), fill="none", stroke="currentColor", stroke_width=1, class_="drawn-soft")


def _bones() -> str:
    collarbones = "".join(
        element("path", d=smooth([at(side * 1.7, 0.2), at(side * 5, 0.8), at(side * 9, 0.7), at(side * 13, 0.9)]),
                fill="none", stroke="currentColor", stroke_width=5, stroke_linecap="round", class_="drawn-soft")
        for side in (1, -1)
    )
    ribs = "".join(
        element("path", d=smooth([at(side * 2.2, -4.6), at(side * 6, -4.9), at(side * 11, -3.9)]), fill="none",
                stroke="currentColor", stroke_width=1.2, class_="drawn-rib")
        for side in (1, -1)
    )
    bone = path(*(at(*point) for point in [(-1.9, -6.4), (-1.7, -5.0), (-2.2, -4.4), (-2.3, -0.2), (0, -0.5),
                                           (2.3, -0.2), (2.2, -4.4), (1.7, -5.0), (1.9, -6.4)]))
    return ribs + element("path", d=bone, fill="none", stroke="currentColor", stroke_width=1.2, class_="drawn-soft",
                          stroke_linejoin="round") + collarbones + stroke(
        at(-2.1, -4.6), at(2.1, -4.6), width=2.4, class_="drawn-accent drawn-sternal-angle")


def _muscle(side: int) -> str:
    return "".join(
        element("path", d=smooth([at(side * x, y) for x, y in head], close=True), class_=f"drawn-muscle drawn-{name}",
                fill="none", fill_opacity=0.72, stroke="currentColor", stroke_width=1)
        for head, name in ((COLLARBONE_HEAD, "collarbone-head"), (BREASTBONE_HEAD, "breastbone-head"))
    )


def _carotid(side: int) -> str:
    return _tube([at(side * x, y) for x, y in CAROTID], "drawn-carotid")


def _tube(points: list[Point], class_: str) -> str:
    return element("path", d=smooth(points), class_=f"drawn-edge {class_}", fill="none", stroke="currentColor",
                   stroke_width=8) + element("path", d=smooth(points), class_="drawn-spot", fill="none", stroke="#fff",
                                             stroke_width=5.2)


def _vein(points: list[Point], width: float, class_: str) -> str:
    return element("path", d=smooth(points), class_=f"drawn-accent {class_}", fill="none", stroke="currentColor",
                   stroke_width=width, stroke_linecap="round")


def _cross(place: Point) -> str:
    x, y = place
    return "".join(
        element("path", d=lines([(x - 6, y - 6, x + 6, y + 6), (x - 6, y + 6, x + 6, y - 6)]), class_=class_,
                fill="none", stroke="currentColor", stroke_width=width, stroke_linecap="round")
        for class_, width in (("drawn-spot", 6.4), ("drawn-stop drawn-never", 3.2))
    )


def _key(y: float) -> list[str]:
    return [
        _vein([(8, y), (22, y)], 6, "drawn-key"), label((34, y + 4), "vein"),
        _tube([(76, y), (92, y)], "drawn-key"), label((104, y + 4), "carotid"),
        element("rect", x=162, y=y - 7, width=22, height=14, rx=4, class_="drawn-muscle", fill="none",
                stroke="currentColor", stroke_width=1),
        label((190, y + 4), "sternomastoid muscle"),
        label((4, y + 24), "The internal jugular is bare between the two heads."),
    ]
