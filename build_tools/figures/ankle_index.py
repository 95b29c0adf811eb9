"""The ankle-brachial index: the six pressures of one patient, and which of them go into the ratio of each leg.

Higher ankle pressure of the leg over the higher arm pressure: gerhardherman2016, recommendation table for the resting
ABI. The patient is made up.
"""

from __future__ import annotations

from build_tools.figures.drawing import Point, label, leader, spot
from build_tools.figures.limbs import MIDLINE, front_of_body
from build_tools.figures.svg import element, picture

# Side: pressures of arm, posterior tibial and dorsalis pedis, in mmHg. Left on the sheet is the patient's right.
ARM = {"right": 128, "left": 124}
POSTERIOR_TIBIAL = {"right": 100, "left": 132}
DORSALIS_PEDIS = {"right": 92, "left": 128}
SIDES = {"right": -1, "left": 1}
SHRINK = 0.66  # of the body of limbs.py
ARM_PLACE: Point = (58.0, 168.0)  # out from the midline, down the sheet: the inner side of the elbow
TIBIAL_PLACE: Point = (14.0, 398.0)
PEDAL_PLACE: Point = (24.0, 420.0)


def higher_ankle(side: str) -> int:
    """Give the higher ankle pressure of a leg."""
    return max(POSTERIOR_TIBIAL[side], DORSALIS_PEDIS[side])


def higher_arm() -> int:
    """Give the higher arm pressure."""
    return max(ARM.values())


def index(side: str) -> float:
    """Give the index of a leg by the higher ankle pressure."""
    return higher_ankle(side) / higher_arm()


def ankle_brachial_ratio(prefix: str) -> str:
    """Draw the six places with their pressures, those that count filled, and the two ratios."""
    drawn = [element("g", front_of_body(), transform=f"translate({MIDLINE * (1 - SHRINK):g} 0) scale({SHRINK})")]
    told = []
    for side in ("right", "left"):
        drawn += [
            _pressure(side, ARM_PLACE, ARM[side], "arm", ARM[side] == higher_arm(), 94),
            _pressure(side, TIBIAL_PLACE, POSTERIOR_TIBIAL[side], "behind ankle",
                      POSTERIOR_TIBIAL[side] == higher_ankle(side), 234),
            _pressure(side, PEDAL_PLACE, DORSALIS_PEDIS[side], "back of foot",
                      DORSALIS_PEDIS[side] == higher_ankle(side), 268),
        ]
        sum_ = f"{higher_ankle(side)} ÷ {higher_arm()} = {index(side):.2f}"
        anchor, x = ("start", 4) if side == "right" else ("end", 336)
        drawn += [label((x, 16), f"{side}, mmHg", anchor, class_="drawn-soft"),
                  label((x, 312), f"{side} leg", anchor), label((x, 328), sum_, anchor, bold=True)]
        told.append(f"{side} leg {sum_}")
    return picture(
        340, 384, *drawn,
        _dot((10, 352), True), label((22, 356), "used: higher arm, and each leg's higher ankle"),
        _dot((10, 372), False), label((22, 376), "not used: kept for the record"),
        prefix=prefix,
        title="Which pressures go into the ankle-brachial index",
        description=(
            "A patient from the front; left on the sheet is the patient's right. Six pressures, made up, in mmHg. "
            f"Arms: right {ARM['right']}, left {ARM['left']}. Posterior tibial artery, behind the inner ankle bone: "
            f"right {POSTERIOR_TIBIAL['right']}, left {POSTERIOR_TIBIAL['left']}. Dorsalis pedis artery, on the back "
            f"of the foot: right {DORSALIS_PEDIS['right']}, left {DORSALIS_PEDIS['left']}. The higher arm pressure, "
            f"{higher_arm()}, goes into both legs; of each leg the higher ankle pressure counts: {', '.join(told)}."
        ),
        class_="drawing",
    )


def _dot(place: Point, used: bool) -> str:
    """Mark a place: filled where the pressure counts, else a ring."""
    if used:
        return spot(place, 5.5)
    return element("circle", cx=place[0], cy=place[1], r=4.6, class_="drawn-ring drawn-accent", fill="none",
                   stroke="currentColor", stroke_width=2)


def _pressure(side: str, out: Point, pressure: int, where: str, used: bool, y: float) -> str:
    """Draw a place, its pressure in mmHg and a leader between them; the words' first line stands at `y`."""
    place = (MIDLINE + SIDES[side] * out[0] * SHRINK, out[1] * SHRINK)
    x, anchor = (4, "start") if side == "right" else (336, "end")
    edge = 8 + 7 * len(where)
    start = (edge if side == "right" else 340 - edge, y + 10)
    return leader(start, place) + _dot(place, used) + label((x, y), str(pressure), anchor, bold=used) + label(
        (x, y + 14), where, anchor)
