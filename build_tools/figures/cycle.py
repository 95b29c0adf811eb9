"""One heartbeat: pressures, valves, sounds, neck veins and ECG on one time axis; and how systole's share grows.

Where events fall: `timing`, with its sources. 120 over 80 mmHg: mcgee2018, from memory. The outlines between the
events, and the pressures of the left chambers, are our own choices for drawing: a diagram, no recording.
"""

from __future__ import annotations

from build_tools.figures.arteries import ORDINARY
from build_tools.figures.drawing import Point, label, stroke
from build_tools.figures.jugular import PATTERNS, vein_points
from build_tools.figures.svg import element, picture
from build_tools.figures.timing import FOURTH_SOUND, Beat, beat
from build_tools.figures.traces import Strip, curve, ecg, level, small, sound, systoles

AXIS = 26.0
SYSTOLIC, DIASTOLIC = 120.0, 80.0
UNIT = 1.25  # drawn units a mmHg
RATES = (50.0, 75.0, 100.0, 120.0)


def cardiac_cycle(prefix: str, rate: float = 75.0) -> str:
    """Draw one beat and the edges of its neighbours at a rate in beats a minute."""
    one = beat(rate)
    strip = Strip(-220, one.length + 40, AXIS, 336)
    starts = [-one.length, 0.0, one.length]
    bottom = 186.0

    def height(pressure: float) -> float:
        return bottom - pressure * UNIT

    pressures = [
        level(strip, height(mark), "drawn-line") + small((AXIS - 4, height(mark) + 4), f"{mark}", "end")
        for mark in (0, 40, 80, 120)
    ]
    middle = one.second_sound + (one.length - one.second_sound) / 2
    return picture(
        340, 466,
        systoles(starts, one, strip, 16, 442),
        label((0, 12), "Pressure, mmHg", bold=True), *pressures,
        curve(_aorta(one, starts), strip, height, "trace-aorta", 1.8),
        curve(_ventricle(one, starts), strip, height, "trace-ventricle drawn-accent", 2.2),
        curve(_atrium(one, starts), strip, height, "trace-atrium", 1.4, dashed=True),
        label((strip.x(middle), height(102)), "aorta", "middle"),
        label((strip.x(one.mitral_opening) + 4, height(26)), "left ventricle", class_="drawn-accent"),
        label((strip.x(middle), height(-15)), "left atrium (dashed)", "middle"),
        label((0, 226), "Valves open", bold=True),
        _valve(strip, [(one.aortic_opening, one.second_sound)], 234, "aortic", "drawn-aortic-open"),
        _valve(strip, [(strip.start, one.first_sound), (one.mitral_opening, one.length + 40)], 254, "mitral",
               "drawn-mitral-open"),
        label((0, 292), "Sounds", bold=True), level(strip, 312),
        sound(strip.x(one.first_sound), 312, 30, "S1", 342),
        sound(strip.x(one.second_sound), 312, 24, "S2", 342),
        sound(strip.x(one.third_sound), 312, 12, "(S3)", 342, hollow=True),
        sound(strip.x(one.first_sound - FOURTH_SOUND) - 5, 312, 12, hollow=True),
        label((strip.x(one.first_sound - FOURTH_SOUND) - 4, 342), "(S4)", "end"),
        label((0, 362), "Neck veins", bold=True),
        curve(_veins(one, starts), strip, lambda pressure: 406 - pressure * 6, "trace-veins drawn-accent", 2),
        label((0, 420), "ECG", bold=True), ecg(starts, one, strip, 438, 22),
        label((strip.x(one.first_sound + one.systole / 2), 459), "systole", "middle", bold=True),
        label((strip.x(middle), 459), "diastole", "middle", bold=True),
        prefix=prefix,
        title=f"One heartbeat at {rate:g} a minute",
        description=(
            f"Traces on one time axis; one beat lasts {one.length:.0f} ms. Systole, from the first to the second "
            f"sound, is shaded and takes {100 * one.systole_share:.0f} per cent of it. After the first sound both "
            "valves are shut until the ventricle's pressure passes the aorta's and the aortic valve opens. It shuts "
            "with the second sound; then both are shut again until the mitral valve opens and the ventricle fills. A "
            "third sound would fall at the end of quick filling, a fourth just before the first sound. In the neck the "
            "a wave stands before the first sound, the v wave just after the second."
        ),
        class_="drawing",
    )


def _valve(strip: Strip, spans: list[tuple[float, float]], top: float, name: str, class_: str) -> str:
    bars = "".join(
        element("rect", x=strip.x(start), y=top, width=(end - start) * strip.unit, height=14,
                class_=f"drawn-bar {class_}", fill="none", stroke="currentColor", stroke_width=1)
        for start, end in spans
    )
    wide = max(spans, key=lambda span: span[1] - span[0])
    return bars + label(((strip.x(wide[0]) + strip.x(wide[1])) / 2, top + 11), name, "middle")


def _aorta(one: Beat, starts: list[float]) -> list[Point]:
    ejection = one.second_sound - one.aortic_opening
    kept = [point for point in ORDINARY if point[0] * ejection < one.length - 60]
    return [
        (start + one.aortic_opening + share * ejection, DIASTOLIC + part * (SYSTOLIC - DIASTOLIC))
        for start in starts
        for share, part in kept
    ]


def _ventricle(one: Beat, starts: list[float]) -> list[Point]:
    ejection = one.second_sound - one.aortic_opening
    shape = [
        (-110.0, 5.0), (-50.0, 10.0), (one.first_sound - 30, 8.0), (one.first_sound, 10.0),
        (one.aortic_opening, DIASTOLIC + 1), (one.aortic_opening + 0.32 * ejection, SYSTOLIC + 3),
        (one.second_sound, DIASTOLIC + 0.5 * (SYSTOLIC - DIASTOLIC)), (one.mitral_opening, 8.0),
        (one.mitral_opening + 45, 2.0),
    ]
    return [(start + time, pressure) for start in starts for time, pressure in shape]


def _atrium(one: Beat, starts: list[float]) -> list[Point]:
    shape = [
        (-110.0, 6.0), (-50.0, 12.0), (one.first_sound, 7.0), (one.first_sound + 40, 9.0),
        (one.first_sound + 130, 4.0), (one.mitral_opening - 12, 12.0), (one.mitral_opening + 70, 4.0),
    ]
    return [(start + time, pressure) for start in starts for time, pressure in shape]


def _veins(one: Beat, starts: list[float]) -> list[Point]:
    return [point for _, point in vein_points(PATTERNS["normal"], tuple(starts), one)]


def systole_and_rate(prefix: str) -> str:
    """Draw one beat at four rates as bars on one time scale: systole filled, diastole open."""
    strip = Strip(0, 1250, 4, 336)
    rows = []
    for index, rate in enumerate(RATES):
        one = beat(rate)
        top = 20 + index * 46.0
        rows += [
            label((4, top), f"{rate:g} a minute", bold=True),
            element("rect", x=strip.x(0), y=top + 6, width=one.systole * strip.unit, height=20,
                    class_="drawn-bar drawn-systole-bar", fill="none", stroke="currentColor", stroke_width=1.2),
            element("rect", x=strip.x(one.systole), y=top + 6, width=(one.length - one.systole) * strip.unit, height=20,
                    class_="drawn-diastole-bar", fill="none", stroke="currentColor", stroke_width=1.2),
            # The first bars are long enough to say what they are.
            label((strip.x(one.systole / 2), top + 20),
                  f"{'' if index else 'systole '}{100 * one.systole_share:.0f}%", "middle"),
            label((strip.x((one.systole + one.length) / 2), top + 20),
                  f"{'' if index else 'diastole '}{100 - 100 * one.systole_share:.0f}%", "middle"),
        ]
    foot = 20 + len(RATES) * 46.0
    marks = [
        stroke((strip.x(time), foot - 8), (strip.x(time), foot - 2), width=1)
        + small((strip.x(time) if time else 2, foot + 10), f"{time / 1000:g} s", "middle" if time else "start")
        for time in (0, 200, 400, 600, 800, 1000, 1200)
    ]
    told = ", ".join(f"{100 * beat(rate).systole_share:.0f} per cent at {rate:g}" for rate in RATES)
    return picture(
        340, foot + 16, *rows, level(strip, foot - 8), *marks,
        prefix=prefix,
        title="Systole's share of the beat at four rates",
        description=(
            "Four bars on one time scale, each one beat long. The filled part is systole, from the first to the second "
            f"sound; the open part diastole. Systole takes {told} beats a minute: as the heart quickens, diastole is "
            "what shortens, and the two gaps become alike."
        ),
        class_="drawing",
    )
