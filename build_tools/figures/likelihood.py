"""Probability before and after a sign: exact curves by odds, one for each likelihood ratio.

Odds after = odds before times the likelihood ratio: richardson2008, introduction.
"""

from __future__ import annotations

from build_tools.figures.drawing import Point, label, stroke
from build_tools.figures.svg import element, number, picture
from build_tools.figures.traces import small

RATIOS = (10.0, 5.0, 2.0, 1.0, 0.5, 0.2, 0.1)
LEFT, BOTTOM, SIDE = 40.0, 292.0, 262.0
EXAMPLE = (0.4, 5.0)  # probability before, likelihood ratio: a made-up example


def after(before: float, ratio: float) -> float:
    """Give the probability after a finding with a likelihood ratio, from the one before; both are shares."""
    odds = before / (1 - before) * ratio
    return odds / (1 + odds)


def before_and_after(prefix: str) -> str:
    """Draw the probability after a sign against the one before, one curve a likelihood ratio."""
    before, ratio = EXAMPLE
    now = after(before, ratio)
    grid = []
    for percent in range(0, 101, 20):
        share = percent / 100
        grid += [
            stroke(_at(share, 0), _at(share, 1), width=0.7, class_="drawn-line"),
            stroke(_at(0, share), _at(1, share), width=0.7, class_="drawn-line"),
            small((_at(share, 0)[0], BOTTOM + 15), f"{percent}", "middle"),
            small((LEFT - 6, _at(0, share)[1] + 4), f"{percent}", "end"),
        ]
    return picture(
        340, 346, *grid,
        *(_curve(one) for one in RATIOS),
        small((308, BOTTOM - SIDE - 4), "LR"),
        stroke(_at(before, 0), _at(before, now), width=2, dashed=True, class_="drawn-before"),
        stroke(_at(before, now), _at(0, now), width=2, dashed=True, class_="drawn-after"),
        *(_named(one) for one in RATIOS),
        element("circle", cx=_at(before, now)[0], cy=_at(before, now)[1], r=5, class_="drawn-accent drawn-spot",
                fill="currentColor", stroke="#fff", stroke_width=1.4),
        label((LEFT, 16), "chance after the sign, %", bold=True),
        label((LEFT + SIDE, 322), "chance before the sign, %", "end", bold=True),
        label((4, 342), f"Dashed: {before * 100:g}% before, LR {ratio:g}, so {now * 100:.0f}% after"),
        prefix=prefix,
        title="Chance before and after a sign",
        description=(
            "A square graph: the chance before the sign along the foot, the chance after it up the side, both 0 to 100 "
            "per cent. One curve for each likelihood ratio (LR): 10, 5 and 2 bulge upwards, 1 is the straight line "
            "that changes nothing, 0.5, 0.2 and 0.1 sag below it. All meet at both ends: a sign moves a middling "
            f"chance most. Example: {before * 100:g} per cent before and LR {ratio:g} give {now * 100:.0f} per cent "
            "after."
        ),
        class_="drawing",
    )


def _at(before: float, now: float) -> Point:
    return LEFT + before * SIDE, BOTTOM - now * SIDE


def _curve(ratio: float) -> str:
    points = [_at(step / 40, after(step / 40, ratio) if step < 40 else 1.0) for step in range(41)]
    way = "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points)
    return element("path", d=way, class_="trace-ratio " + ("drawn-soft" if ratio == 1 else "drawn-accent"),
                   fill="none", stroke="currentColor", stroke_width=1.4 if ratio == 1 else 2)


def _named(ratio: float) -> str:
    """Write the name of a curve on a plate, so that no line runs through it. The names stand in a row across the
    curves, a little off the other diagonal: there the example's lines leave them room."""
    low, high = 0.0, 1.0
    for _ in range(40):
        middle = (low + high) / 2
        low, high = (middle, high) if after(max(middle, 1e-9), ratio) < 0.9 - middle else (low, middle)
    x, y = _at(low, 0.9 - low)
    words = f"{ratio:g}"
    wide = 8 * len(words) + 4
    plate = element("rect", x=x - wide / 2, y=y - 8, width=wide, height=16, rx=2, class_="drawn-plate", fill="none")
    return plate + label((x, y + 4), words, "middle", bold=True)
