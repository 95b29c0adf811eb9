"""Limbs: where ankle pressures are taken, the cuff at heart level, and the places where pulses are felt."""

from __future__ import annotations

from build_tools.figures.drawing import Point, body, label, leader, limb, spot, stroke
from build_tools.figures.svg import element, path, picture, smooth

# ---- Ankle pressures: the inner side of a left leg, to scale ----

FOOT_SCALE = 7.3  # drawn units a centimetre; the foot is 26 cm long
MALLEOLUS: Point = (112.0, 196.0)  # its centre
MALLEOLUS_RADIUS = 10.0
CUFF_GAP = 2.0  # cm between the cuff's lower edge and the top of the medial malleolus
CUFF_WIDTH = 12.0  # cm


def ankle_pressures(prefix: str) -> str:
    """Draw the two arteries at the ankle and the cuff above it."""
    lower = MALLEOLUS[1] - MALLEOLUS_RADIUS - CUFF_GAP * FOOT_SCALE
    upper = lower - CUFF_WIDTH * FOOT_SCALE
    leg: list[Point] = [
        (66, 8), (70, 60), (76, 120), (80, 160), (76, 190), (64, 214), (62, 234), (74, 246), (110, 249), (150, 248),
        (200, 250), (240, 251), (252, 244), (250, 234), (236, 226), (204, 212), (176, 198), (154, 182), (146, 160),
        (148, 120), (154, 60), (158, 8),
    ]
    posterior: Point = (89, 204)
    pedal: Point = (188, 205)
    return picture(
        340, 290,
        body(smooth(leg)),
        element("rect", x=70, y=upper, width=86, height=lower - upper, rx=6, class_="drawn-cuff", fill="none",
                stroke="currentColor", stroke_width=1.6),
        stroke((82, upper + 1), (82, lower - 1), width=1, class_="drawn-soft"),
        element("circle", cx=MALLEOLUS[0], cy=MALLEOLUS[1], r=MALLEOLUS_RADIUS, fill="none", stroke="currentColor",
                stroke_width=1.4, class_="drawn-malleolus"),
        element("path", d=smooth([(86, lower + 4), (88, 192), (90, 208), (104, 224), (130, 236)]), fill="none",
                stroke="currentColor", stroke_width=2.4, stroke_dasharray="4 3", class_="drawn-accent"),
        element("path", d=smooth([(138, lower + 4), (150, 182), (170, 197), (188, 206), (210, 217)]), fill="none",
                stroke="currentColor", stroke_width=2.4, stroke_dasharray="4 3", class_="drawn-accent"),
        spot(posterior, 6),
        spot(pedal, 6),
        label((176, upper + 20), "cuff, straight;|its lower edge"),
        label((176, upper + 48), f"{CUFF_GAP:g} cm above the|medial malleolus"),
        stroke((164, lower), (164, MALLEOLUS[1] - MALLEOLUS_RADIUS), width=1.6, class_="drawn-gap"),
        stroke((160, lower), (168, lower)),
        stroke((160, MALLEOLUS[1] - MALLEOLUS_RADIUS), (168, MALLEOLUS[1] - MALLEOLUS_RADIUS)),
        label((218, 178), "dorsalis pedis", bold=True),
        leader((224, 182), (195, 201)),
        label((8, 274), "posterior tibial, behind the bone", bold=True),
        leader((46, 262), (85, 211)),
        label((228, 194), "on the back|of the foot"),
        prefix=prefix,
        title="Where ankle pressures are taken",
        description=(
            "The inner side of a left leg. The cuff lies straight around the leg, its lower edge 2 cm above the top "
            "of the medial malleolus. The posterior tibial artery is found behind the malleolus, the dorsalis pedis "
            "artery on the back of the foot."
        ),
        class_="drawing",
    )


# ---- The cuff at heart level ----

HEART: Point = (96.0, 130.0)  # the middle of the breastbone
SHOULDER: Point = (92.0, 100.0)
ELBOW: Point = (150.0, 160.0)
SEATED: list[Point] = [
    (84, 70), (75, 50), (79, 29), (97, 19), (115, 26), (121, 40), (126, 51), (120, 56), (121, 64), (112, 71),
    (106, 77), (108, 90), (118, 106), (122, 140), (122, 180), (118, 206), (96, 213), (74, 211), (67, 180), (69, 130),
    (73, 98), (82, 82),
]


def cuff_at_heart_level(prefix: str) -> str:
    """Draw a seated patient with the middle of the cuff level with the middle of the breastbone."""
    cuff = _on_arm(0.5)
    upper, lower = _on_arm(0.23), _on_arm(0.77)
    return picture(
        340, 300,
        stroke((62, 84), (62, 288), width=4),
        stroke((62, 216), (142, 216), width=4),
        stroke((138, 218), (138, 288), width=4),
        stroke((20, 289), (320, 289), width=1.4),
        limb([(94, 197), (172, 197), (172, 272)], 28),
        limb([(168, 278), (198, 278)], 18),
        body(smooth(SEATED, close=True)),
        stroke((140, 176), (312, 176), width=4), stroke((296, 178), (296, 288), width=4),
        limb([SHOULDER, ELBOW, (232, 162)], 20),
        element("path", d=path(upper, lower),
                class_="drawn-cuff-line", stroke="currentColor", stroke_width=26, fill="none"),
        stroke((30, cuff[1]), (326, cuff[1]), dashed=True, width=1.8, class_="drawn-accent drawn-heart-level"),
        spot(HEART, 5), spot(cuff, 5),
        label((186, cuff[1] - 26), "middle of the cuff =|middle of breastbone", bold=True),
        label((152, 88), "cuff"),
        leader((158, 92), (cuff[0] + 10, cuff[1] - 12)),
        label((206, 147), "palm up"),
        label((212, 204), "arm rests on|the table"),
        label((2, 62), "back|supported"),
        label((206, 256), "feet flat, legs|uncrossed"),
        prefix=prefix,
        title="Cuff and arm at heart level",
        description=(
            "A patient sits with the back supported, feet flat and legs uncrossed. The forearm rests on a table, palm "
            "up. A level line runs through the middle of the cuff and the middle of the breastbone."
        ),
        class_="drawing",
    )


def _on_arm(share: float) -> Point:
    """Give the place on the upper arm at a share of the way from shoulder to elbow."""
    return SHOULDER[0] + share * (ELBOW[0] - SHOULDER[0]), SHOULDER[1] + share * (ELBOW[1] - SHOULDER[1])


# ---- Where pulses are felt ----

# Place on the body, label, place of the label, anchor. Left on the sheet is the patient's right.
SITES: list[tuple[Point, str, Point, str]] = [
    ((179, 79), "carotid", (236, 66), "start"),
    ((228, 177), "brachial", (276, 152), "start"),
    ((255, 229), "radial", (288, 222), "start"),
    ((170, 178), "abdominal aorta", (2, 96), "start"),
    ((151, 238), "femoral", (8, 296), "start"),
    ((149, 320), "popliteal,|behind the knee", (2, 334), "start"),
    ((184, 400), "posterior tibial,|behind the inner|ankle bone", (240, 344), "start"),
    ((193, 420), "dorsalis pedis", (240, 426), "start"),
]

# The right half of the outline on the sheet, from the crown to the crotch, as distances from the midline.
HALF: list[Point] = [
    (0, 15), (13, 19), (21, 33), (21, 47), (16, 61), (10, 69), (10, 81), (16, 88), (36, 95), (48, 104), (54, 124),
    (62, 160), (72, 178), (82, 206), (88, 230), (96, 251), (92, 266), (84, 262), (79, 242), (77, 228), (66, 197),
    (56, 179), (45, 148), (38, 128), (36, 150), (31, 184), (38, 222), (42, 260), (34, 316), (36, 346), (25, 400),
    (32, 424), (24, 434), (13, 428), (12, 402), (11, 350), (9, 318), (5, 270), (0, 246),
]
MIDLINE = 170.0


def front_of_body() -> str:
    """Draw the outline of a patient from the front."""
    right = [(MIDLINE + x, y) for x, y in HALF]
    left = [(MIDLINE - x, y) for x, y in reversed(HALF[1:-1])]
    return body(smooth(right + left, close=True))


def pulse_sites(prefix: str) -> str:
    """Draw a patient from the front with the places where pulses are felt."""
    marks = []
    for place, words, at, anchor in SITES:
        middle = at[1] - 4 + 7 * words.count("|")
        wide = max(len(part) for part in words.split("|")) * 6.2
        start = (at[0] + wide + 3, middle) if at[0] < place[0] else (at[0] - 4, middle)
        marks += [leader(start, place), spot(place), label(at, words, anchor)]
    return picture(
        340, 446, front_of_body(), *marks,
        prefix=prefix,
        title="Where pulses are felt",
        description=(
            "A patient from the front. Carotid: in the neck beside the windpipe. Brachial: inner side of the elbow "
            "crease. Radial: thumb side of the wrist. Abdominal aorta: above the navel. Femoral: in the groin crease. "
            "Popliteal: behind the knee. Posterior tibial: behind the inner ankle bone. Dorsalis pedis: on the back of "
            "the foot. Each is felt on both sides, except the aorta; only one carotid at a time."
        ),
        class_="drawing",
    )
