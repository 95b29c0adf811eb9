"""Curves against time: a smooth line that never overshoots its turning points, the ECG, bars for heart sounds."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from build_tools.figures.drawing import Point, label
from build_tools.figures.svg import element, lines, number, text
from build_tools.figures.timing import PR, Beat

# Milliseconds after the start of the QRS and height (1 is the R wave).
P_WAVE: list[Point] = [(-PR, 0), (-PR + 45, 0.16), (-PR + 90, 0)]
QRS: list[Point] = [(0, 0), (14, -0.1), (40, 1), (66, -0.22), (90, 0)]
# The T wave ends about with the second sound at every rate: its times are shares of the way there.
T_WAVE: list[Point] = [(0.515, 0.02), (0.77, 0.3), (0.98, 0)]
# Ripples of fibrillating atria, some 400 a minute: milliseconds between two turning points, and their heights in turn.
RIPPLE, RIPPLES = 75.0, (0.07, -0.05, 0.05, -0.07)


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


@dataclass(frozen=True)
class _Node:
    x: float
    y: float
    slope: float


def _nodes(points: Sequence[Point]) -> list[_Node]:
    """Give each point a slope: level at turning points, else the harmonic mean of its neighbours' slopes."""
    steps = [(b[1] - a[1]) / (b[0] - a[0]) for a, b in pairwise(points)]
    slopes = [0.0, *(2 * a * b / (a + b) if a * b > 0 else 0.0 for a, b in pairwise(steps)), 0.0]
    return [_Node(x, y, slope) for (x, y), slope in zip(points, slopes, strict=True)]


def _between(a: _Node, b: _Node, x: float) -> _Node:
    """Cut the curve between two nodes at x."""
    wide = b.x - a.x
    t = (x - a.x) / wide
    y = (
        a.y * (1 + 2 * t) * (1 - t) ** 2 + wide * a.slope * t * (1 - t) ** 2
        + b.y * t * t * (3 - 2 * t) + wide * b.slope * t * t * (t - 1)
    )
    slope = (b.y - a.y) * 6 * t * (1 - t) / wide + a.slope * (1 - t) * (1 - 3 * t) + b.slope * t * (3 * t - 2)
    return _Node(x, y, slope)


def curve(
    points: Sequence[Point], strip: Strip, height: Callable[[float], float], class_: str, width: float = 1.8,
    dashed: bool = False,
) -> str:
    """Draw the curve through (time, value) points within a strip; `height` turns a value into a place on the sheet.

    Turning points stay where they are given, so that a drawn peak is as high as its number says.
    """
    nodes = _nodes(points)
    kept: list[_Node] = []
    for a, b in pairwise(nodes):
        if b.x < strip.start or a.x > strip.end:
            continue
        if not kept:
            kept.append(a if a.x >= strip.start else _between(a, b, strip.start))
        kept.append(b if b.x <= strip.end else _between(a, b, strip.end))
    steps = [f"M{number(strip.x(kept[0].x))} {number(height(kept[0].y))}"]
    for a, b in pairwise(kept):
        third = (b.x - a.x) / 3
        handles = ((a.x + third, a.y + third * a.slope), (b.x - third, b.y - third * b.slope), (b.x, b.y))
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
    points += [(start + x, y) for start in starts for x, y in QRS]
    points += [(start + share * beat.second_sound, y) for start in starts for share, y in T_WAVE]
    if p_starts is not None and not waves:
        points += _ripples(starts, beat)
    merged: list[Point] = []
    for x, y in sorted(points):
        # A P wave that falls on a QRS or T wave is added to it only in the reader's mind: it is drawn as a notch.
        if not merged or x - merged[-1][0] > 3:
            merged.append((x, y))
    ends = [(strip.start - 400, 0.0), (strip.end + 400, 0.0)]
    inside = [point for point in merged if ends[0][0] < point[0] < ends[1][0]]
    return curve([ends[0], *inside, ends[1]], strip, lambda y: base - y * tall, "trace-ecg drawn-soft", 1.3)


def _ripples(starts: Sequence[float], beat: Beat) -> list[Point]:
    """Give the turning points of the base line between each T wave and the next QRS."""
    return [
        (start + beat.second_sound + RIPPLE / 2 + count * RIPPLE, RIPPLES[count % len(RIPPLES)])
        for start, following in pairwise(starts)
        for count in range(int((following - start - beat.second_sound - RIPPLE / 2) // RIPPLE))
    ]


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
