"""What the traces of the wave laboratory show, in words: for whoever does not see them, and for each beat in turn."""

from calculators.models import rhythms
from calculators.numbers import fixed

# A beat is called early or late when the interval before it differs from the mean by more than this share of it.
UNEQUAL = 0.15


def lanes(choice):
    """Give one sentence for each lane, from the top."""
    condition, pulse = choice["condition"], choice["pulse"]
    pressures = " and ".join([fixed(high, 0) + "/" + fixed(low, 0) for high, low in pulse["pressures"]])
    if len(pulse["pressures"]) > 1 and choice["rhythm"]["id"] != rhythms.REGULAR:
        pressures += " mmHg, in turn at a regular rhythm only: here from the mean of both"
    else:
        pressures += " mmHg"
    return [
        "ECG: " + choice["rhythm"]["told"] + "; " + fixed(choice["rate"], 0) + " beats a minute on average.",
        "Arterial pulse: " + pulse["name"].lower() + ": " + pulse["felt"] + ". Drawn from " + pressures
        + _falling(choice) + ".",
        "Neck veins: " + _veins(choice) + ". " + _level(choice),
        "Heart sounds: " + condition["sounds"] + ".",
    ]


def _falling(choice):
    fall = choice["condition"]["fall"] * choice["breathing"]["pressure"]
    return ", " + fixed(fall, 0) + " mmHg less at the top on breathing in" if fall else ""


def _veins(choice):
    kind, heights = choice["rhythm"]["id"], choice["veins"]
    seen = heights["seen"]
    if kind == rhythms.FIBRILLATION:
        return "no a wave, beats unequal" + ("" if heights["name"] == "Normal" else "; otherwise " + seen)
    if kind in (rhythms.BLOCK, rhythms.ECTOPIC) and heights["a"] is not None:
        return seen + "; a cannon wave leaps where the atria beat against the shut tricuspid valve"
    return seen


def _level(choice):
    fall = choice["condition"]["venous_fall"] * choice["breathing"]["pressure"]
    if not choice["breathing"]["period"]:
        return "The breath is held, so the level does not swing."
    if fall > 0:
        return "The level falls on breathing in."
    return "The level rises on breathing in." if fall < 0 else "The level does not fall on breathing in."


def beat(choice, one, leap, inwards):
    """Say what one beat shows. leap: a cannon wave comes with it; inwards: the breath goes in (None: held)."""
    mean = 60000 / choice["rate"]
    number = "Beat " + fixed(one["number"], 0) + ": "
    parts = [number + fixed(one["before"] / 1000, 2) + " s after the last" + _when(one, mean)]
    parts.append("Pulse " + fixed(one["high"], 0) + "/" + fixed(one["low"], 0) + " mmHg")
    if leap:
        parts.append("Cannon a wave in the neck")
    elif choice["rhythm"]["id"] == rhythms.FIBRILLATION:
        parts.append("No a wave")
    parts.append("Breath held" if inwards is None else "Breathing in" if inwards else "Breathing out")
    return ". ".join(parts) + "."


def _when(one, mean):
    if one["ectopic"]:
        return ", early and from a ventricle"
    if one["before"] > (1 + UNEQUAL) * mean:
        return ", after a pause"
    return ", early" if one["before"] < (1 - UNEQUAL) * mean else ""
