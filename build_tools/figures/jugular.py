"""Jugular venous waves in time with the ECG, the carotid pulse and the heart sounds.

Order, timing and heights of the waves, and where they come from: `calculators.models.veins`. Where the sounds
fall: `timing`.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from build_tools.figures.arteries import ORDINARY
from build_tools.figures.drawing import Point, label
from build_tools.figures.svg import picture
from build_tools.figures.timing import Beat, beat
from build_tools.figures.traces import Strip, curve, ecg, level, small, sound, systoles
from calculators.models import veins
from calculators.models.rhythms import ATRIAL_INTERVAL

BEAT = beat(75)
UNIT = 3.2  # drawn units a mmHg, where the pattern may stand high
AXIS = 24.0
ROW = 136.0

# Complete block: the ventricles beat 40 times a minute, the atria at a rate of their own.
BLOCK = beat(40)
BLOCK_P = tuple(-340.0 + ATRIAL_INTERVAL * index for index in range(5))
BLOCK_QRS = tuple(100 + BLOCK.length * index for index in (-1, 0, 1))
IRREGULAR = (-700.0, 0.0, 620.0, 1540.0, 2250.0)


@dataclass(frozen=True)
class Veins:
    """A pattern of the neck veins as it is drawn: its heights, and what goes with it."""

    heights: dict[str, Any]
    # Starts of the QRS and, where they do not belong together, of the P waves; both in milliseconds.
    beats: tuple[float, ...] = tuple(BEAT.length * index for index in range(-1, 5))
    p_waves: tuple[float, ...] | None = None
    beat: Beat = BEAT
    names: dict[str, str] = field(default_factory=dict)

    @property
    def name(self) -> str:
        return str(self.heights["name"])

    @property
    def seen(self) -> str:
        """What the eye sees."""
        return str(self.heights["seen"])


def _drawn(name: str, **drawn: Any) -> Veins:
    return Veins(veins.PATTERNS[name], **drawn)


PATTERNS = {
    "normal": _drawn("normal", names={"a": "a", "c": "c", "x": "x", "v": "v", "y": "y"}),
    "no-a": _drawn("no-a", beats=IRREGULAR, p_waves=(), names={"v": "v"}),
    "giant-a": _drawn("giant-a", names={"a": "a"}),
    "cannon": _drawn("cannon", beats=BLOCK_QRS, p_waves=BLOCK_P, beat=BLOCK, names={"cannon": "cannon"}),
    "large-v": _drawn("large-v", names={"v": "cv", "y": "y"}),
    "steep-y": _drawn("steep-y", names={"x": "x", "y": "y"}),
    "no-y": _drawn("no-y", names={"x": "x"}),
    "flat": _drawn("flat"),
}
SCALED = "The scale is in mmHg above the right atrium; the shaded band is systole, from the first to the second sound."


def normal_waves(prefix: str) -> str:
    """Draw ECG, carotid pulse, neck veins and heart sounds one under the other on one time axis."""
    strip = Strip(-300, 1500, AXIS, 336)
    starts = PATTERNS["normal"].beats
    ejection = BEAT.second_sound - BEAT.aortic_opening
    carotid = [
        (start + BEAT.aortic_opening + share * ejection, part) for start in starts for share, part in ORDINARY
    ]
    sounds = []
    for start in (0.0, BEAT.length):
        sounds += [sound(strip.x(start + BEAT.first_sound), 300, 28, "S1", 328),
                   sound(strip.x(start + BEAT.second_sound), 300, 22, "S2", 328)]
    return picture(
        340, 334,
        systoles(starts, BEAT, strip, 14, 314),
        label((0, 12), "ECG", bold=True), ecg(starts, BEAT, strip, 52, 30),
        label((0, 84), "Carotid pulse", bold=True),
        curve(carotid, strip, lambda part: 138 - part * 40, "trace-carotid", 1.8),
        label((0, 166), "Neck veins", bold=True),
        _veins(PATTERNS["normal"], strip, 258, 14),
        label((0, 280), "Sounds", bold=True), level(strip, 300), *sounds,
        prefix=prefix,
        title="Waves of the neck veins in time with ECG, carotid pulse and heart sounds",
        description=(
            "Four traces of two beats at 75 a minute, one under the other. The a wave follows the P wave and comes "
            "before the first sound and the carotid push. The small c wave comes with the carotid push. The x descent "
            "falls during systole, with the carotid pulse. The v wave crests just after the second sound, and the y "
            "descent follows it. " + SCALED
        ),
        class_="drawing",
    )


def abnormal_waves(prefix: str) -> str:
    """Draw the abnormal patterns one under the other, each with its ECG."""
    rows = [_row(pattern, index * ROW) for index, pattern in enumerate(list(PATTERNS.values())[1:])]
    told = "; ".join(f"{one.name.lower()}: {one.seen}" for one in list(PATTERNS.values())[1:])
    return picture(
        340, ROW * len(rows), *rows,
        prefix=prefix,
        title="Abnormal waves of the neck veins",
        description=f"Seven traces of the neck veins, each under its ECG. {told[0].upper()}{told[1:]}. {SCALED}",
        class_="drawing",
    )


def one_pattern(prefix: str, name: str) -> str:
    """Draw one abnormal pattern under the normal one, each under its ECG."""
    pattern = PATTERNS[name]
    return picture(
        340, 2 * ROW, _row(PATTERNS["normal"], 0), _row(pattern, ROW),
        prefix=prefix,
        title=f"{pattern.name}: neck veins beside the normal waves",
        description=(
            "Two traces of the neck veins, each under its ECG. Above, the normal waves: a before the first sound, a "
            f"fall during systole, v just after the second sound. Below, {pattern.name.lower()}: "
            f"{pattern.seen}. {SCALED}"
        ),
        class_="drawing",
    )


def _row(pattern: Veins, top: float) -> str:
    strip = Strip(-300, 2000, AXIS, 336)
    return "".join([
        systoles(pattern.beats, pattern.beat, strip, top + 20, top + 124),
        label((0, top + 13), pattern.name, bold=True),
        small((338, top + 13), pattern.seen, "end"),
        ecg(pattern.beats, pattern.beat, strip, top + 43, 18, pattern.p_waves),
        _veins(pattern, strip, top + 112, UNIT),
    ])


def _veins(pattern: Veins, strip: Strip, bottom: float, unit: float) -> str:
    """Draw the scale, the curve and the names of its waves."""
    tall = unit > 10
    marks = (0, 5) if tall else (0, 10)

    def height(pressure: float) -> float:
        return bottom - pressure * unit

    points = vein_points(pattern, pattern.beats, pattern.beat)
    drawn = [level(strip, height(mark), "drawn-line") for mark in marks]
    drawn += [small((strip.left - 4, height(mark) + 4), f"{mark}", "end") for mark in marks]
    drawn.append(curve([point for _, point in points], strip, height, "trace-veins drawn-accent", 2.2))
    named = set()
    for wave, (time, pressure) in points:
        words = pattern.names.get(wave)
        # Each wave is named once: at its first full beat.
        if words and wave not in named and strip.start + 120 < time < strip.end - 60:
            named.add(wave)
            below = wave in ("x", "y")
            drawn.append(label((strip.x(time), height(pressure) + (13 if below else -5)), words, "middle"))
    return "".join(drawn)


def vein_points(pattern: Veins, starts: tuple[float, ...], beat: Beat) -> list[tuple[str, Point]]:
    """Give (name of the wave, (time, mmHg)) of beats at `starts`, in order of time."""
    beats = [
        {
            "start": start, "first_sound": beat.first_sound, "second_sound": beat.second_sound, "length": beat.length,
            "conducted": pattern.p_waves is None,
        }
        for start in starts
    ]
    found: list[tuple[str, Point]] = veins.points(pattern.heights, beats, list(pattern.p_waves or ()))
    return found
