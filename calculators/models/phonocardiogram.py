"""Heart sounds as a trace: sounds and murmurs as swings about a line, as tall as they are loud.

When they come: `cycle` and `murmurs`, with their sources. How wide a sound is drawn, and how rough a murmur, are our
choices: the trace shows time and loudness, not pitch.
"""

import math

from calculators.models import cycle

# Milliseconds that a sound lasts as drawn.
WIDTHS = {"S1": 70.0, "A2": 34.0, "P2": 34.0, "S3": 60.0, "S4": 50.0, "snap": 18.0, "click": 16.0, "knock": 30.0}
# Loudness beside an ordinary first sound.
ADDED = {"S3": 0.35, "S4": 0.3, "snap": 0.6, "click": 0.7, "knock": 0.7}
AORTIC, PULMONARY = 0.85, 0.55
# Of the swings of a murmur the least is this share of its height.
SMOOTHEST = 0.45


def split(breath, fixed):
    """Give (A2, P2) in ms after the second sound of a quiet breath out; breath: 0 out to 1 deeply in."""
    if fixed:
        return 0.0, cycle.SPLIT_SEPTAL_DEFECT + cycle.SPLIT_SEPTAL_CHANGE * breath
    return cycle.SPLIT_AORTIC_IN * breath, cycle.SPLIT_OUT + cycle.SPLIT_PULMONARY_IN * breath


def tones(beat, sounds, breath):
    """Give the heart sounds of a beat, [(name, ms, loudness)]: from where each begins.

    sounds: {first, aortic, pulmonary (loudness), fixed_split, third, fourth, click, snap, knock}; breath as in `split`.
    """
    start = beat["start"]
    first, second = start + beat["first_sound"], start + beat["second_sound"]
    aortic, pulmonary = split(breath, sounds["fixed_split"])
    found = [
        ("S1", first, sounds["first"]),
        ("A2", second + aortic, AORTIC * sounds["aortic"]),
        ("P2", second + pulmonary, PULMONARY * sounds["pulmonary"]),
    ]
    # The ventricle must still be filling for what comes with its filling.
    room = beat["length"] - beat["second_sound"]
    if sounds["fourth"] and beat["conducted"]:
        found.append(("S4", first - cycle.FOURTH_SOUND - WIDTHS["S4"] / 2, ADDED["S4"]))
    if sounds["third"] and room > beat["third_sound"] - beat["second_sound"] + WIDTHS["S3"]:
        found.append(("S3", start + beat["third_sound"], ADDED["S3"]))
    if sounds["click"] is not None:
        found.append(("click", first + sounds["click"] * (second - first), ADDED["click"]))
    for name in ("snap", "knock"):
        if sounds[name] is not None and room > sounds[name] + WIDTHS[name]:
            found.append((name, second + sounds[name], ADDED[name]))
    return found


def when(share, beat):
    """Turn 0 to 1 (systole) and 1 to 2 (diastole) into ms."""
    first, second = beat["start"] + beat["first_sound"], beat["start"] + beat["second_sound"]
    if share <= 1:
        return first + share * (second - first)
    return second + (share - 1) * (beat["start"] + beat["length"] + beat["first_sound"] - second)


def add_tone(swings, start, step, tone):
    """Add a sound to the swings: a swell and fade of its width."""
    name, at, loud = tone
    wide = WIDTHS[name]
    for place in _places(swings, start, step, at, at + wide):
        share = (start + place * step - at) / wide
        swings[place] = max(swings[place], loud * math.sin(math.pi * share))


def add_murmur(swings, start, step, envelope, beat, loud):
    """Add a murmur to the swings: straight from point to point of its envelope, with the roughness of noise."""
    points = [(when(share, beat), height * loud) for share, height in envelope]
    for number in range(len(points) - 1):
        (x0, y0), (x1, y1) = points[number], points[number + 1]
        for place in _places(swings, start, step, x0, x1):
            height = y0 + (y1 - y0) * (start + place * step - x0) / (x1 - x0)
            # Rough from the moment alone, so that every stretch of one trace is the same.
            rough = (math.floor(start / step) + place) * 7919 % 101 / 100
            swings[place] = max(swings[place], height * (SMOOTHEST + (1 - SMOOTHEST) * rough))


def _places(swings, start, step, first, last):
    """The places of the swings that lie from `first` to `last`, in ms."""
    begin = max(0, math.ceil((first - start) / step))
    end = min(len(swings) - 1, math.floor((last - start) / step))
    return range(begin, end + 1)
