"""When the heart beats: regular, with ectopic beats, in atrial fibrillation, in complete heart block.

Systole follows the regression on the mean rate (`cycle`) in every beat. The irregularity of fibrillation, how early
ectopic beats come and the rate of the atria in block are our choices for teaching.
"""

from calculators.models import cycle

REGULAR, ECTOPIC, FIBRILLATION, BLOCK = "regular", "ectopic", "fibrillation", "block"

# Fibrillation: intervals spread evenly, so far either way of the mean, and less where a fast heart has no room.
SPREAD = 0.4
# Every so many beats one comes early, from a ventricle, after this share of the usual interval; a full pause follows.
ECTOPIC_EVERY = 5
COUPLING = 0.6
# In block the atria keep a rate of their own: milliseconds from one P wave to the next.
ATRIAL_INTERVAL = 580.0
# The least time from the second sound to the next QRS, in ms.
LEAST_DIASTOLE = 100.0

# A small generator, the same on every device: the next number is (75 * number + 74) modulo 65537.
SEED, FACTOR, SHIFT, MODULUS = 7, 75, 74, 65537


def spread(rate):
    """Give how far, as a share of the mean, intervals of fibrillation may lie from it."""
    length = 60000 / rate
    room = length - cycle.beat(rate)["second_sound"] - LEAST_DIASTOLE
    return max(0.0, min(SPREAD, room / length))


def rhythm(rate, kind, first, until):
    """Give the beats of a rhythm from before `first` to after `until`, and the P waves that no QRS follows.

    rate: mean rate of the ventricles, beats a minute. first: start of the first QRS that is counted, in ms.
    Returns {"beats", "own_p_waves"}. A beat: {start, before (ms since the beat before), length (ms to the next),
    number, ectopic, conducted, first_sound, aortic_opening, second_sound, third_sound (ms after its start)}.
    Two beats stand before the first one, so that a curve has where to come from.
    """
    mean = 60000 / rate
    intervals, ectopics = _intervals(rate, kind, until - first + 6 * mean)
    starts = [first - intervals[0] - intervals[1]]
    for interval in intervals:
        starts.append(starts[-1] + interval)
    events = cycle.beat(rate)
    beats = []
    for place in range(len(intervals)):
        ectopic = place in ectopics
        beats.append({
            "start": starts[place],
            "before": intervals[place - 1] if place else mean,
            "length": intervals[place],
            "number": place - 1,
            "ectopic": ectopic,
            "conducted": kind in (REGULAR, ECTOPIC) and not ectopic,
            "first_sound": events["first_sound"],
            "aortic_opening": events["aortic_opening"],
            "second_sound": events["second_sound"],
            "third_sound": events["third_sound"],
        })
    return {"beats": beats, "own_p_waves": _own_p_waves(kind, beats, mean)}


def _intervals(rate, kind, long):
    """Give intervals in ms that fill `long`, and the places of ectopic beats among them."""
    mean = 60000 / rate
    intervals = []
    ectopics = []
    total = 0.0
    number = SEED
    wide = spread(rate)
    early = max(COUPLING * mean, cycle.beat(rate)["second_sound"] + LEAST_DIASTOLE / 2)
    while total < long:
        interval = mean
        if kind == FIBRILLATION:
            number = (FACTOR * number + SHIFT) % MODULUS
            interval = mean * (1 + wide * (2 * number / MODULUS - 1))
        elif kind == ECTOPIC and len(intervals) % ECTOPIC_EVERY == ECTOPIC_EVERY - 2:
            interval = early
            ectopics.append(len(intervals) + 1)
        elif kind == ECTOPIC and len(intervals) in ectopics:
            interval = 2 * mean - early
        intervals.append(interval)
        total += interval
    return intervals, ectopics


def _own_p_waves(kind, beats, mean):
    if kind == ECTOPIC:
        # The sinus node keeps its time: its wave falls where the next beat was due.
        return [beat["start"] - beat["before"] + mean - cycle.PR for beat in beats if beat["ectopic"]]
    if kind != BLOCK:
        return []
    found = []
    at = beats[0]["start"]
    while at < beats[-1]["start"]:
        found.append(at)
        at += ATRIAL_INTERVAL
    return found
