"""Arterial pulses: pressure against time, to scale in mmHg, with systole shaded.

Outlines and pressures, and where they come from: `calculators.models.pulses`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import cos, pi
from typing import Any

from build_tools.figures.drawing import Point, label, stroke
from build_tools.figures.svg import picture
from build_tools.figures.timing import beat
from build_tools.figures.traces import Strip, curve, level, small, systoles
from calculators.models import pulses
from calculators.models.pulses import ORDINARY, PARADOX

BEAT = beat(75)
UNIT = 0.72  # drawn units a mmHg
AXIS = 26.0  # room for the numbers of the scale

@dataclass(frozen=True)
class Pulse:
    """A pulse: name, what the finger feels, outline, and the pressures (systolic, diastolic) of its beats in turn."""

    name: str
    felt: str
    outline: list[Point]
    pressures: list[Point]


_ROWS: dict[str, Any] = pulses.PULSES
PULSES = {name: Pulse(**row) for name, row in _ROWS.items()}
SCALED = "All pulses stand on one scale, in mmHg; the shaded band is systole, from the first to the second heart sound."


def pulse_shapes(prefix: str) -> str:
    """Draw six pulses side by side on one scale."""
    panels = [
        _panel(pulse, 4 + (index % 2) * 172, (index // 2) * 132.0, 160) for index, pulse in enumerate(PULSES.values())
    ]
    return picture(
        340, 394, *panels,
        prefix=prefix,
        title="Shapes of the arterial pulse",
        description=(
            "Six pressure curves. Normal: 120 over 80, one quick peak, a notch when the aortic valve closes. "
            "Slow-rising: small, with a shoulder on the way up and a late peak. Collapsing: 150 over 50, steep up and "
            "steep down. Double: two peaks within one systole. Alternating: a strong and a weak beat in turn, the "
            "rhythm regular. Small: the usual shape with a narrow pulse pressure. " + SCALED
        ),
        class_="drawing",
    )


def one_pulse(prefix: str, name: str) -> str:
    """Draw one abnormal pulse under the normal one, on the same scale."""
    pulse = PULSES[name]
    drawn_at = " and ".join(f"{high:g} over {low:g}" for high, low in pulse.pressures)
    return picture(
        340, 264, _panel(PULSES["normal"], 4, 0, 332), _panel(pulse, 4, 134, 332),
        prefix=prefix,
        title=f"{pulse.name} pulse beside the normal one",
        description=(
            "Two pressure curves. Above, the normal pulse: 120 over 80, one quick peak and a notch when the aortic "
            f"valve closes. Below, {pulse.name.lower()}: {pulse.felt}, drawn at {drawn_at}. " + SCALED
        ),
        class_="drawing",
    )


def _panel(pulse: Pulse, left: float, top: float, wide: float) -> str:
    """Draw one pulse: name, what is felt, curve and scale. A wide panel holds more beats at the same scale of time."""
    strip = Strip(-40, -40 + (wide - AXIS) * 11.8, left + AXIS, left + wide)
    starts = [index * BEAT.length for index in range(-1, 6)]
    bottom = top + 124
    height = _height(bottom - 4, 45)
    return "".join([
        systoles(starts, BEAT, strip, top + 32, bottom),
        *(level(strip, height(value), "drawn-line") for value in (80, 120)),
        curve(_pressures(pulse, starts), strip, height, "trace-pulse drawn-accent", 2.2),
        level(strip, bottom),
        *(small((left + AXIS - 4, height(value) + 4), f"{value}", "end") for value in (80, 120)),
        label((left, top + 13), pulse.name, bold=True),
        small((left, top + 27), pulse.felt),
    ])


def _height(bottom: float, lowest: float, unit: float = UNIT) -> Callable[[float], float]:
    """Give what turns mmHg into a place on the sheet."""
    return lambda pressure: bottom - (pressure - lowest) * unit


def _pressures(pulse: Pulse, starts: list[float]) -> list[Point]:
    """Give the points (time, mmHg) of beats that start at `starts`."""
    points: list[Point] = []
    ejection = BEAT.second_sound - BEAT.aortic_opening
    for index, start in enumerate(starts):
        high, low = pulse.pressures[(index + 1) % len(pulse.pressures)]
        foot = start + BEAT.aortic_opening
        points += pulses.beat_points(pulse.outline, foot, ejection, low, high)
    return points


# ---- The pulse in breathing ----

BREATH = 4.0  # beats a breath
HIGH, LOW = pulses.PARADOXICAL


def paradoxical_pulse(prefix: str) -> str:
    """Draw a pulse that fades on each breath in, with the two cuff pressures that measure it."""
    strip = Strip(0, 2.5 * BREATH * BEAT.length, AXIS, 278)
    height = _height(212, LOW, 2)
    # The smaller filling of a breath in shows in the beats of that breath.
    peaks = [HIGH - PARADOX * (1 - cos(2 * pi * index / BREATH)) / 2 for index in range(-1, 12)]
    points: list[Point] = []
    ejection = BEAT.second_sound - BEAT.aortic_opening
    for index, peak in zip(range(-1, 12), peaks, strict=True):
        foot = index * BEAT.length + BEAT.aortic_opening
        points += pulses.beat_points(ORDINARY, foot, ejection, LOW, peak)
    breath = [(turn * BREATH / 2 * BEAT.length + 200, float(turn % 2)) for turn in range(-1, 7)]
    first, all_beats = max(peaks), min(peaks)
    return picture(
        340, 262,
        label((0, 14), "Breathing", bold=True),
        curve(breath, strip, lambda part: 64 - part * 36, "trace-breath drawn-soft", 1.8),
        *(small((strip.x((breath[turn][0] + breath[turn + 1][0]) / 2) + shift, 50), words, anchor)
          for turn, words, shift, anchor in ((1, "in", -7, "end"), (2, "out", 7, "start"), (3, "in", -7, "end"),
                                             (4, "out", 7, "start"))),
        label((0, 98), "Arterial pressure", bold=True),
        curve(points, strip, height, "trace-pulse drawn-accent", 2),
        *(small((AXIS - 4, height(value) + 4), f"{value}", "end") for value in (80, 100, 120)),
        stroke((AXIS, height(first)), (290, height(first)), dashed=True, class_="drawn-first-sounds"),
        stroke((AXIS, height(all_beats)), (290, height(all_beats)), dashed=True, class_="drawn-every-beat"),
        small((AXIS, height(first) - 7), "cuff at the upper line: sounds on breathing out only"),
        small((AXIS, height(LOW) + 18), "cuff at the lower line: every beat is heard"),
        stroke((287, height(first)), (287, height(all_beats)), width=2.4, class_="drawn-paradox"),
        label((293, (height(first) + height(all_beats)) / 2 - 2), f"{first - all_beats:g}|mmHg", bold=True),
        prefix=prefix,
        title="Paradoxical pulse and how the cuff measures it",
        description=(
            "Ten beats over two and a half quiet breaths. On each breath in the systolic pressure falls by "
            f"{PARADOX:g} mmHg and the pulse grows small. As the cuff is let down, sounds first come at the upper "
            "dashed line, on breathing out only; at the lower dashed line every beat is heard. The distance "
            "is the paradox."
        ),
        class_="drawing",
    )
