"""Waves of the neck veins: when they come in a beat, and how high they stand.

Drawings and the wave laboratory take both from here. Order and timing of the waves: applefeld1990, definition. What
the abnormal waves mean: ijcc_jvp, Table 4. Heights in mmHg and the places between the heart sounds are our own
choices for drawing, from memory, kept within the usual catheter limits: diagrams, no recordings.
"""

from calculators.models.cycle import PR

# Milliseconds from the start of the QRS (a), from the first sound (x, c), as a share of systole (x'), and from the
# second sound (v, y).
A_WAVE, X_TROUGH, C_WAVE, X_SHARE, V_WAVE, Y_TROUGH = -48.0, 12.0, 56.0, 0.81, 48.0, 160.0
# An atrial beat takes this long each way; between beats the veins rest when a pause is longer than LONG.
A_WIDTH = 110.0
LONG = 500.0
# Where diastole is short, v and y come at these shares of the time to the next wave, at the latest.
V_SHARE, Y_SHARE = 0.2, 0.62
# A wave that meets a shut valve is three times as tall as a normal a wave: so many mmHg more.
CANNON = 10.0

NORMAL = {
    "name": "Normal", "seen": "two small waves a beat; x falls most",
    # mmHg; a wave that is None is missing. x is the small trough between a and c, x_prime the fall in systole.
    "a": 5.0, "x": 3.0, "c": 3.5, "x_prime": 1.0, "v": 4.0, "y": 2.0,
    "rest": 2.6,  # between y and the next a
    "y_trough": Y_TROUGH,
}


def _changed(heights, changes):
    """Copy a pattern with some of its entries changed."""
    pattern = dict(heights)
    for entry in changes:
        pattern[entry] = changes[entry]
    return pattern


def without_atria(heights):
    """Give a pattern as fibrillating atria leave it: no a wave, and a shallow fall in systole."""
    pattern = _changed(heights, {"a": None, "x": None})
    for wave, rise in (("c", 0.1), ("x_prime", 1.4), ("v", 0.6)):
        if pattern[wave] is not None:
            pattern[wave] = pattern[wave] + rise
    return pattern


# By name; `seen` is what the eye sees.
PATTERNS = {
    "normal": NORMAL,
    "no-a": _changed(without_atria(NORMAL), {"name": "Atrial fibrillation", "seen": "no a wave, beats unequal"}),
    "giant-a": _changed(NORMAL, {"name": "Giant a wave", "seen": "tall, just before each beat", "a": 10.0}),
    "cannon": _changed(NORMAL, {"name": "Cannon a waves", "seen": "now and then, a leap"}),
    "large-v": _changed(NORMAL, {
        "name": "Large v (cv) wave", "seen": "one swell through systole",
        "x_prime": None, "c": None, "v": 13.0, "y": 3.0,
    }),
    "steep-y": _changed(NORMAL, {
        "name": "Steep y descent", "seen": "column high; two quick dips",
        "a": 14.5, "x": 13.0, "c": 13.4, "x_prime": 9.0, "v": 14.5, "y": 7.5, "rest": 13.4, "y_trough": 110.0,
    }),
    "no-y": _changed(NORMAL, {
        "name": "Tamponade", "seen": "column high; x dips, y is lost",
        "a": 14.6, "x": 13.4, "c": 13.8, "x_prime": 10.5, "v": 14.2, "y": None, "rest": 13.8,
    }),
    "flat": _changed(NORMAL, {
        "name": "Superior vena cava blocked", "seen": "full and still",
        "a": None, "x": None, "c": None, "x_prime": None, "v": 16.0, "y": None, "rest": 16.0,
    }),
    "tall-v": _changed(NORMAL, {"name": "Tall v wave", "seen": "v as tall as a", "v": 5.0}),
}


def crest(p_wave):
    """Give when the a wave of a P wave that begins at `p_wave` stands highest, in ms."""
    return p_wave + PR + A_WAVE


def shut_for(p_wave, beats):
    """True if the atrial beat of a P wave meets a shut tricuspid valve: its wave falls between the heart sounds."""
    at = crest(p_wave) + 40
    return any([beat["start"] + beat["first_sound"] <= at <= beat["start"] + beat["second_sound"] for beat in beats])


def points(heights, beats, own_p_waves):
    """Give the turning points [(name of the wave, (ms, mmHg))] of beats in order of time.

    heights: a pattern. beats: [{start, first_sound, second_sound, length, conducted}] by rising start; conducted is
    true where a P wave comes before the QRS. own_p_waves: when P waves begin that no QRS follows.
    """
    found = []
    for place in range(len(beats)):
        beat = beats[place]
        start = beat["start"]
        following = beats[place + 1] if place + 1 < len(beats) else None
        found.extend(_of_beat(heights, beat, _room(heights, beat, following)))
        end = following["start"] if following else start + beat["length"]
        last = found[-1][1][0]
        if end - last > LONG:
            found.append(("rest", ((last + end) / 2, heights["rest"])))
    if heights["a"] is not None:
        for p_wave in own_p_waves:
            found = _with_own(heights, found, p_wave, shut_for(p_wave, beats))
    return _in_order(found)


def _room(heights, beat, following):
    """How long v and y have after the second sound, in ms: until the next wave begins."""
    second = beat["start"] + beat["second_sound"]
    if following is None:
        return beat["length"]
    if heights["a"] is not None and following["conducted"]:
        return following["start"] + A_WAVE - second
    return following["start"] + following["first_sound"] - second


def _of_beat(heights, beat, room):
    start = beat["start"]
    first, second = start + beat["first_sound"], start + beat["second_sound"]
    found = []
    if heights["a"] is not None and beat["conducted"]:
        found.append(("before a", (start + A_WAVE - A_WIDTH, heights["rest"])))
        found.append(("a", (start + A_WAVE, heights["a"])))
        if heights["x"] is not None:
            found.append(("trough", (first + X_TROUGH, heights["x"])))
    if heights["c"] is not None:
        found.append(("c", (first + C_WAVE, heights["c"])))
    if heights["x_prime"] is not None:
        found.append(("x", (first + X_SHARE * (second - first), heights["x_prime"])))
        found.append(("v", (second + min(V_WAVE, V_SHARE * room), heights["v"])))
    else:
        # One swell through systole crests just before the second sound.
        found.append(("v", (second - 10, heights["v"])))
    if heights["y"] is not None:
        found.append(("y", (second + min(heights["y_trough"], Y_SHARE * room), heights["y"])))
    return found


def _with_own(heights, found, p_wave, shut):
    """Put the wave of a P wave of its own in the place of what it covers."""
    at = crest(p_wave)
    kept = [point for point in found if not at - 120 < point[1][0] < at + 120]
    kept.append(("rest", (at - 105, heights["rest"])))
    kept.append(("cannon", (at, heights["a"] + CANNON)) if shut else ("a", (at, heights["a"])))
    kept.append(("trough", (at + 105, heights["rest"] - 0.4)))
    return kept


def _in_order(found):
    """Sort by time; leave out a rest that a fast heart has no time for, and what falls on one moment with another."""
    order = sorted([(found[place][1][0], place) for place in range(len(found))])
    kept = []
    for time, place in order:
        before = kept[-1] if kept else None
        hurried = found[place][0] == "before a" and before is not None and before[0] in ("x", "c")
        if not hurried and (before is None or time - before[1][0] >= 1):
            kept.append(found[place])
    return kept
