"""Curves against time: a smooth line that never overshoots its turning points, the ECG, bars for heart sounds."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from build_tools.figures.drawing import Point, label
from build_tools.figures.svg import element, lines, number, text
from build_tools.figures.timing import Beat
from calculators.models import curves, electrocardiogram
from calculators.models.electrocardiogram import P_WAVE


@dataclass(frozen=True)
class Strip:
    """A strip of time from `start` to `end` (ms) drawn from `left` to `right`."""

    start: float
    end: float
    left: float
    right: float

    def x(self, time: float) -> float:
        """Give the horizontal place of a time."""
        return self.left + (time - self.start) * self.unit

    @property
    def unit(self) -> float:
        """Drawn units a millisecond."""
        return (self.right - self.left) / (self.end - self.start)


def curve(
    points: Sequence[Point], strip: Strip, height: Callable[[float], float], class_: str, width: float = 1.8,
    dashed: bool = False,
) -> str:
    """Draw the curve through (time, value) points within a strip; `height` turns a value into a place on the sheet.

    Turning points stay where they are given, so that a drawn peak is as high as its number says.
    """
    nodes = curves.nodes(points)
    kept: list[tuple[float, float, float]] = []
    for a, b in pairwise(nodes):
        if b[0] < strip.start or a[0] > strip.end:
            continue
        if not kept:
            kept.append(a if a[0] >= strip.start else curves.between(a, b, strip.start))
        kept.append(b if b[0] <= strip.end else curves.between(a, b, strip.end))
    steps = [f"M{number(strip.x(kept[0][0]))} {number(height(kept[0][1]))}"]
    for (x0, y0, slope0), (x1, y1, slope1) in pairwise(kept):
        third = (x1 - x0) / 3
        handles = ((x0 + third, y0 + third * slope0), (x1 - third, y1 - third * slope1), (x1, y1))
        steps.append("C" + " ".join(f"{number(strip.x(x))} {number(height(y))}" for x, y in handles))
    return element("path", d="".join(steps), class_=class_, fill="none", stroke="currentColor", stroke_width=width,
                   stroke_linejoin="round", stroke_dasharray="5 4" if dashed else None)


def ecg(
    starts: Sequence[float], beat: Beat, strip: Strip, base: float, tall: float = 20,
    p_starts: Sequence[float] | None = None,
) -> str:
    """Draw an ECG on the base line `base`: a QRS at each of `starts`, each with its P wave unless `p_starts` says
    when P waves begin. When that is empty the atria fibrillate: ripples and no P waves."""
    waves = [P_WAVE[0][0] + start for start in starts] if p_starts is None else list(p_starts)
    points = [(start + x - P_WAVE[0][0], y) for start in waves for x, y in P_WAVE]
    for start in starts:
        points += electrocardiogram.beat_points(start, beat.second_sound, False)
    if p_starts is not None and not waves:
        for start, following in pairwise(starts):
            points += electrocardiogram.ripples(start, following, beat.second_sound)
    merged = electrocardiogram.merged(points)
    ends = [(strip.start - 400, 0.0), (strip.end + 400, 0.0)]
    inside = [point for point in merged if ends[0][0] < point[0] < ends[1][0]]
    return curve([ends[0], *inside, ends[1]], strip, lambda y: base - y * tall, "trace-ecg drawn-soft", 1.3)


def systoles(starts: Sequence[float], beat: Beat, strip: Strip, top: float, bottom: float) -> str:
    """Shade the time from the first to the second sound of each beat."""
    drawn = []
    for start in starts:
        left = max(strip.start, start + beat.first_sound)
        right = min(strip.end, start + beat.second_sound)
        if right > left:
            drawn.append(element("rect", x=strip.x(left), y=top, width=(right - left) * strip.unit,
                                 height=bottom - top, class_="drawn-systole", fill="none"))
    return "".join(drawn)


def sound(
    x: float, middle: float, tall: float, name: str = "", name_at: float = 0, hollow: bool = False,
    class_: str = "trace-sound",
) -> str:
    """Draw a heart sound as an upright bar that begins at x, with its name on the base line `name_at`."""
    bar = element("rect", x=x, y=middle - tall / 2, width=5, height=tall, class_=class_,
                  fill="none" if hollow else "currentColor", stroke="currentColor", stroke_width=1.2)
    return bar + (label((x + 2.5, name_at), name, "middle") if name else "")


def small(at: Point, words: str, anchor: str = "start") -> str:
    """Write a quiet note beside a curve."""
    return text(at[0], at[1], words, text_anchor=None if anchor == "start" else anchor, font_size=11,
                class_="drawn-soft drawn-words", fill="currentColor")


def level(strip: Strip, y: float, class_: str = "drawn-soft") -> str:
    """Draw a base line."""
    return element("path", d=lines([(strip.left, y, strip.right, y)]), class_=class_, stroke="currentColor",
                   stroke_width=0.7, fill="none")
