"""The ECG as a trace: where its waves turn, in milliseconds after the start of the QRS, and how high.

Drawings and the wave laboratory take it from here. PR interval: `cycle`. All else is a schematic of ours for timing:
no lead, and nothing to measure.
"""

from calculators.models.cycle import PR

# Height 1 is the R wave.
P_WAVE = [(-PR, 0), (-PR + 45, 0.16), (-PR + 90, 0)]
QRS = [(0, 0), (14, -0.1), (40, 1), (66, -0.22), (90, 0)]
# The T wave ends about with the second sound at every rate: its times are shares of the way there.
T_WAVE = [(0.515, 0.02), (0.77, 0.3), (0.98, 0)]
# A beat from a ventricle: broad, and its T wave turned over.
BROAD_QRS = [(0, 0), (50, 0.75), (90, 0.5), (150, 0)]
BROAD_T_WAVE = [(0.52, 0.0), (0.75, -0.35), (0.98, 0)]
# Ripples of fibrillating atria, some 400 a minute: milliseconds between two turning points, and their heights in turn.
RIPPLE, RIPPLES = 75.0, (0.07, -0.05, 0.05, -0.07)


def ripples(start, following, second_sound):
    """Give the turning points of fibrillating atria between the T wave of a beat and the next QRS."""
    count = int((following - start - second_sound - RIPPLE / 2) // RIPPLE)
    return [
        (start + second_sound + RIPPLE / 2 + number * RIPPLE, RIPPLES[number % len(RIPPLES)])
        for number in range(max(0, count))
    ]


def beat_points(start, second_sound, ectopic):
    """Give the turning points of QRS and T wave of a beat that starts at `start`."""
    found = [(start + x, y) for x, y in (BROAD_QRS if ectopic else QRS)]
    for share, y in BROAD_T_WAVE if ectopic else T_WAVE:
        found.append((start + share * second_sound, y))
    return found


def merged(points):
    """Sort turning points by time. What falls on another within 3 ms is left out: it shows as a notch."""
    kept = []
    for point in sorted(points):
        if not kept or point[0] - kept[-1][0] > 3:
            kept.append(point)
    return kept
