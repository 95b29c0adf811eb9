"""Arterial pulses: the outline of a beat, and the pressures it runs between.

Drawings and the wave laboratory take both from here. The pressures of the normal and the collapsing pulse, and the
fall on breathing in, follow figures on the pages: a pulse pressure of about 40 mmHg (mcgee2018, from memory), 80 mmHg
or more in aortic regurgitation (mcgee2018, chapter 45), a fall of more than 10 mmHg in pulsus paradoxus (mcgee2018,
chapter 15) against at most 5 mmHg in health (michard2005). The other pressures and the outlines are ours, for
teaching: diagrams, no recordings.
"""

# The outline of a beat: share of ejection (0 opening, 1 closing of the aortic valve; above 1 in the same unit)
# and share of the pulse pressure.
ORDINARY = [(0, 0), (0.32, 1), (0.62, 0.84), (1, 0.5), (1.1, 0.56), (1.4, 0.36), (2.0, 0.13)]
SLOW = [(0, 0), (0.24, 0.42), (0.34, 0.5), (0.74, 1), (1, 0.8), (1.3, 0.5), (2.0, 0.15)]
STEEP = [(0, 0), (0.22, 1), (0.42, 0.8), (0.7, 0.4), (1, 0.2), (1.3, 0.12), (2.0, 0.04)]
DOUBLE = [(0, 0), (0.24, 0.95), (0.45, 0.68), (0.68, 1), (1, 0.45), (1.3, 0.26), (2.0, 0.08)]

# `felt`: what the finger feels. `pressures`: systolic and diastolic, in mmHg, of its beats in turn.
PULSES = {
    "normal": {
        "name": "Normal", "felt": "quick, smooth, one peak", "outline": ORDINARY, "pressures": [(120.0, 80.0)],
    },
    "slow-rising": {
        "name": "Slow-rising", "felt": "small, late peak", "outline": SLOW, "pressures": [(104.0, 78.0)],
    },
    "collapsing": {
        "name": "Collapsing", "felt": "sharp rise, sharp fall", "outline": STEEP, "pressures": [(150.0, 50.0)],
    },
    "double": {
        "name": "Double", "felt": "two peaks in one systole", "outline": DOUBLE, "pressures": [(140.0, 60.0)],
    },
    "alternating": {
        "name": "Alternating", "felt": "regular; strong, then weak", "outline": ORDINARY,
        "pressures": [(116.0, 76.0), (96.0, 76.0)],
    },
    "small": {
        "name": "Small", "felt": "usual shape, little push", "outline": ORDINARY, "pressures": [(92.0, 74.0)],
    },
}

# The paradoxical pulse of a breath out, and by how many mmHg its systolic pressure falls on breathing in: an example
# of ours, beyond the 10 mmHg that make the sign.
PARADOXICAL = (116.0, 80.0)
PARADOX = 20.0


def beat_points(outline, foot, ejection, low, high):
    """Give the points (ms, mmHg) of a beat whose aortic valve opens at `foot` and stays open for `ejection` ms."""
    return [(foot + share * ejection, low + part * (high - low)) for share, part in outline]
