"""Cuff sizes to scale: each bladder flat, and round the thickest arm that it is printed for.

Bladders and arms: pickering2005, cuff table, quoted in targetbp. Four fifths of the girth long and two fifths wide:
targetbp. The bladder's middle over the artery: common practice.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from build_tools.figures.drawing import Point, label, spot, stroke
from build_tools.figures.svg import element, number, picture

SCALE = 4.7  # drawn units a centimetre
LONG, WIDE = 0.8, 0.4  # the least length and width, as shares of the girth
ARM_X = 52.0  # the middle of the arms on the sheet
BLADDER_X = 116.0  # the left edge of the bladders


@dataclass(frozen=True)
class Cuff:
    """A cuff: its name, the girths of arm it is printed for, and its bladder, in centimetres."""

    name: str
    arm: tuple[int, int]
    wide: float
    long: float


CUFFS = (
    Cuff("Small adult", (22, 26), 12, 22),
    Cuff("Adult", (27, 34), 16, 30),
    Cuff("Large adult", (35, 44), 16, 36),
    Cuff("Thigh", (45, 52), 16, 42),
)


def cuff_sizes(prefix: str) -> str:
    """Draw the four cuffs of the table, each with its arm."""
    rows, top = [], 0.0
    for cuff in CUFFS:
        rows.append(_row(cuff, top))
        top += 34 + max(cuff.wide, cuff.arm[1] / math.pi + 2) * SCALE
    told = "; ".join(
        f"{cuff.name}, arm {cuff.arm[0]} to {cuff.arm[1]} cm: bladder {cuff.wide:g} by {cuff.long:g} cm, "
        f"{_share(cuff.long, cuff):.0%} of the thickest arm long and {_share(cuff.wide, cuff):.0%} wide"
        for cuff in CUFFS
    )
    return picture(
        340, top + 54, *rows,
        stroke((6, top + 8), (34, top + 8), width=1.6, dashed=True, class_="drawn-accent"),
        label((42, top + 12), f"least length: {LONG:.0%} of the girth"),
        label((42, top + 29), "dot: the artery, under the bladder's middle"),
        label((42, top + 46), "all shares: of the thickest arm of the row"),
        prefix=prefix,
        title="Cuff sizes to scale",
        description=(
            "Four cuffs on one scale. On the left the cut through the thickest arm each is printed for, with the "
            "bladder round it, its middle over the artery; on the right the bladder flat. "
            f"{told}. A dashed line across each bladder marks the least length, four fifths of the girth: every one "
            "is long enough. The least width, two fifths of the girth, the two largest miss on their thickest arms."
        ),
        class_="drawing",
    )


def _share(length: float, cuff: Cuff) -> float:
    """Give a length as a share of the thickest arm that the cuff is printed for."""
    return length / cuff.arm[1]


def _row(cuff: Cuff, top: float) -> str:
    radius = cuff.arm[1] / (2 * math.pi) * SCALE
    high = max(cuff.wide, cuff.arm[1] / math.pi + 2) * SCALE
    middle = top + 22 + high / 2
    least = BLADDER_X + LONG * cuff.arm[1] * SCALE
    edge = middle - cuff.wide * SCALE / 2
    return "".join([
        label((4, top + 14), f"{cuff.name}: arm {cuff.arm[0]} to {cuff.arm[1]} cm", bold=True),
        element("circle", cx=ARM_X, cy=middle, r=radius, class_="drawn-body drawn-arm", fill="none",
                stroke="currentColor", stroke_width=1.2),
        _wrapped((ARM_X, middle), radius + 4, _share(cuff.long, cuff)),
        spot((ARM_X + radius - 5, middle), 3.4),
        label((ARM_X - 5, middle + 4), f"{_share(cuff.long, cuff):.0%}", "middle", bold=True),
        element("rect", x=BLADDER_X, y=edge, width=cuff.long * SCALE, height=cuff.wide * SCALE, rx=3,
                class_="drawn-cuff drawn-bladder", fill="none", stroke="currentColor", stroke_width=1.6),
        stroke((least, edge - 3), (least, edge + cuff.wide * SCALE + 3), width=1.6, dashed=True,
               class_="drawn-accent drawn-least-length"),
        label((BLADDER_X + 8, middle - 2), f"{cuff.wide:g} × {cuff.long:g} cm", bold=True),
        label((BLADDER_X + 8, middle + 14), f"width {_share(cuff.wide, cuff):.0%}"),
    ])


def _wrapped(centre: Point, radius: float, share: float) -> str:
    """Draw the bladder round the arm, its middle at the inner side, to the right on the sheet."""
    half = math.pi * share
    ends = [(centre[0] + radius * math.cos(turn), centre[1] + radius * math.sin(turn)) for turn in (-half, half)]
    way = (f"M{number(ends[0][0])} {number(ends[0][1])}A{number(radius)} {number(radius)} 0 {int(share > 0.5)} 1 "
           f"{number(ends[1][0])} {number(ends[1][1])}")
    return element("path", d=way, class_="drawn-cuff-edge", fill="none", stroke="currentColor", stroke_width=8) \
        + element("path", d=way, class_="drawn-cuff-line drawn-wrapped", fill="none", stroke="currentColor",
                  stroke_width=5.4)
