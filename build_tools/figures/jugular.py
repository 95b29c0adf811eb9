"""Jugular venous waves in time with the ECG, the carotid pulse and the heart sounds.

Order and timing of the waves: applefeld1990, definition. What the abnormal waves mean: ijcc_jvp, Table 4.
Where the sounds fall: `timing`. Heights in mmHg and the places between the sounds are our own choices for
drawing, from memory, kept within the usual catheter limits: diagrams, no recordings.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from build_tools.figures.arteries import ORDINARY
from build_tools.figures.drawing import Point, label
from build_tools.figures.svg import picture
from build_tools.figures.timing import PR, Beat, beat
from build_tools.figures.traces import Strip, curve, ecg, level, small, sound, systoles

BEAT = beat(75)
UNIT = 3.2  # drawn units a mmHg, where the pattern may stand high
AXIS = 24.0
ROW = 136.0

# Milliseconds from the start of the QRS (a), from the first sound (c), as a share of systole (x'), and from the
# second sound (v, y); with the heights in mmHg.
A_WAVE, C_WAVE, X_SHARE, V_WAVE, Y_TROUGH = -48.0, 56.0, 0.81, 48.0, 160.0
RESTING = 2.6  # mmHg between y and the next a


@dataclass(frozen=True)
class Veins:
    """A pattern of the neck veins: name, what the eye sees, heights in mmHg (a wave that is None is missing)."""

    name: str
    seen: str
    a: float | None = 5.0
    x: float | None = 3.0
    c: float | None = 3.5
    x_prime: float | None = 1.0
    v: float = 4.0
    y: float | None = 2.0
    rest: float = RESTING
    y_trough: float = Y_TROUGH
    # Starts of the QRS and, where they do not belong together, of the P waves; both in milliseconds.
    beats: tuple[float, ...] = tuple(BEAT.length * index for index in range(-1, 5))
    p_waves: tuple[float, ...] | None = None
    beat: Beat = BEAT
    names: dict[str, str] = field(default_factory=dict)


# Complete block: the ventricles beat 40 times a minute, the atria at a rate of their own.
BLOCK = beat(40)
BLOCK_P = tuple(-340.0 + 580 * index for index in range(5))
BLOCK_QRS = tuple(100 + BLOCK.length * index for index in (-1, 0, 1))
IRREGULAR = (-700.0, 0.0, 620.0, 1540.0, 2250.0)

PATTERNS = {
    "normal": Veins("Normal", "two small waves a beat; x falls most", names={"a": "a", "c": "c", "x": "x", "v": "v",
                                                                          "y": "y"}),
    "no-a": Veins("Atrial fibrillation", "no a wave, beats unequal", a=None, x=None, c=3.6, x_prime=2.4, v=4.6,
                  beats=IRREGULAR, p_waves=(), names={"v": "v"}),
    "giant-a": Veins("Giant a wave", "tall, just before each beat", a=10.0, names={"a": "a"}),
    "cannon": Veins("Cannon a waves", "now and then, a leap", beats=BLOCK_QRS, p_waves=BLOCK_P, beat=BLOCK,
                    names={"cannon": "cannon"}),
    "large-v": Veins("Large v (cv) wave", "one swell through systole", x_prime=None, c=None, v=13.0, y=3.0,
                     names={"v": "cv", "y": "y"}),
    "steep-y": Veins("Steep y descent", "column high; two quick dips", a=14.5, x=13.0, c=13.4, x_prime=9.0, v=14.5,
                     y=7.5, rest=13.4, y_trough=110.0, names={"x": "x", "y": "y"}),
    "no-y": Veins("Tamponade", "column high; x dips, y is lost", a=14.6, x=13.4, c=13.8, x_prime=10.5, v=14.2,
                  y=None, rest=13.8, names={"x": "x"}),
    "flat": Veins("Superior vena cava blocked", "full and still", a=None, x=None, c=None, x_prime=None, v=16.0,
                  y=None, rest=16.0),
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
    points: list[tuple[str, Point]] = []
    for index, start in enumerate(starts):
        first, second = start + beat.first_sound, start + beat.second_sound
        if pattern.a is not None and pattern.p_waves is None:
            points += [("rest", (start + A_WAVE - 110, pattern.rest)), ("a", (start + A_WAVE, pattern.a))]
        if pattern.x is not None and pattern.p_waves is None:
            points.append(("trough", (first + 12, pattern.x)))
        if pattern.c is not None:
            points.append(("c", (first + C_WAVE, pattern.c)))
        if pattern.x_prime is not None:
            points.append(("x", (first + X_SHARE * beat.systole, pattern.x_prime)))
        points.append(("v", (second + (V_WAVE if pattern.x_prime is not None else -10), pattern.v)))
        if pattern.y is not None:
            points.append(("y", (second + pattern.y_trough, pattern.y)))
        following = starts[index + 1] if index + 1 < len(starts) else start + beat.length
        last = points[-1][1][0]
        if following - last > 500:
            points.append(("rest", ((last + following) / 2, pattern.rest)))
    if pattern.p_waves:
        points = _with_own_atria(pattern, points)
    return sorted(points, key=lambda point: point[1][0])


def _with_own_atria(pattern: Veins, points: list[tuple[str, Point]]) -> list[tuple[str, Point]]:
    """Add a waves where the atria beat by themselves: three times as tall where the tricuspid valve is shut."""
    assert pattern.a is not None
    for start in pattern.p_waves or ():
        crest = start + PR + A_WAVE
        at = pattern.beat
        shut = any(one + at.first_sound <= crest + 40 <= one + at.second_sound for one in pattern.beats)
        near = [point for point in points if not crest - 120 < point[1][0] < crest + 120]
        points = [*near, ("rest", (crest - 105, pattern.rest)),
                  ("cannon" if shut else "a", (crest, pattern.a * (3 if shut else 1))),
                  ("trough", (crest + 105, pattern.rest - 0.4))]
    return points
