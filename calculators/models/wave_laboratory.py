"""The wave laboratory: ECG, arterial pulse, neck veins and heart sounds of one person, sample by sample.

A tape of TAPE ms is fixed by four choices; any stretch of it can be asked for, and comes out the same each time.
Where things fall and how high they are: `rhythms`, `pulses`, `veins`, `phonocardiogram`, `electrocardiogram`, and
wave_laboratory.toml, which names the source of each number or calls it our choice for teaching.

Request: {"model", "condition", "rhythm", "breathing": ids of the TOML file, "rate": beats a minute, "from", "until":
ms of the tape}, all as texts. Answer: {"state", "model", "rate", "from", "until", "step": ms between samples,
"lanes": [{id, name, unit, low, high, scale, ticks, samples}] with samples in `unit` times `scale`,
"marks": [{lane, at, level, words, below: 1 for a name under its trace}], "told": [what each lane shows],
"beats": [{start, until, first, second: the heart sounds, told}] and "breaths_in": [[from, until]], those that begin
in the stretch}; all times in ms.
"""

import math

from calculators.models import (
    curves,
    electrocardiogram,
    murmurs,
    phonocardiogram,
    pulses,
    rhythms,
    veins,
    wave_words,
)
from calculators.numbers import fixed, parse

NAME = "wave_laboratory"
TAPE = 60000
STEP = 5
LONGEST = 10000  # ms that may be asked for at once: what a small engine answers before a reader wonders
FIRST_BEAT = 300.0

# Our choices for teaching. How much a stroke follows the interval before it, and within which limits:
FOLLOWS, WEAKEST, STRONGEST = 1.2, 0.3, 1.3
ECTOPIC_STROKE = 0.7  # of a stroke after that interval: a beat from a ventricle fills and empties it badly
LARGE_TOP, LARGE_FOOT = 12.0, 8.0  # mmHg by which the slow beats of block are larger, at the top and at the foot
LEAST_PULSE = 4.0  # mmHg
# The first sound in block: loud when the P wave stands so near before the QRS, soft when further (ms); and in
# fibrillation louder after a short interval.
NEAR, FAR, LOUD, SOFT = 120.0, 250.0, 1.4, 0.6
FIRST_FOLLOWS = 0.6
LOUDEST = 1.5  # beside an ordinary first sound

# Tops of the scale of the neck veins, in mmHg: the lowest that holds a pattern is taken.
CEILINGS = (8, 12, 18, 28)
# Waves that are named on the trace, and names that stand under it.
WAVES = ("a", "c", "x", "v", "y", "cannon")
BELOW = ("x", "y", "S1", "S2")
WHOLE = {"ecg": 1000, "pulse": 10, "veins": 100, "sounds": 1000}


def answer(data, request):
    """Answer a request for a stretch of the tape. data: wave_laboratory.toml as a dict."""
    choice, problem = _choice(data, request)
    if problem:
        return {"model": NAME, "state": "refused", "problem": problem}
    first, until = _stretch(request)
    made = tape(choice)
    count = (until - first) // STEP
    near = _near(made, first, until)
    scale = _pulse_scale(made)
    top, column = _ceiling(choice), _veins(choice, near, first, count)
    lanes = [
        _lane("ecg", "ECG", "", (-0.5, 1.2), (), _ecg(choice, near, first, count)),
        _lane("pulse", "Arterial pulse", "mmHg", scale, (40, 80, 120, 160), _pulse(near, first, count)),
        _lane("veins", "Neck veins", "mmHg", (-2, top), (0, 5) if top < 12 else (0, 10, 20), column),
        _lane("sounds", "Heart sounds", "", (-LOUDEST - 0.1, LOUDEST + 0.1), (), _sounds(choice, near, first, count)),
    ]
    return {
        "model": NAME, "state": "answer", "rate": choice["rate"], "from": first, "until": until, "step": STEP,
        "lanes": lanes,
        "beats": [_beat(made, choice, beat) for beat in made["beats"] if first <= beat["start"] < until],
        "breaths_in": _breaths_in(choice["breathing"], first, until),
        "marks": _marks(choice, near, first, until),
        "told": wave_words.lanes(choice),
    }


def _choice(data, request):
    """Read the four choices: (dict, "") or (None, a sentence for the reader)."""
    choice = {}
    for entry, rows in (("condition", "conditions"), ("rhythm", "rhythms"), ("breathing", "breathing")):
        found = [row for row in data[rows] if row["id"] == request.get(entry)]
        if not found:
            return None, "The laboratory knows no such " + entry + ". Choose one of its list."
        choice[entry] = found[0]
    low, high = choice["rhythm"]["rates"]
    rate = _number(request.get("rate"))
    if rate is None or not low <= rate <= high:
        return None, "Choose a rate from " + fixed(low, 0) + " to " + fixed(high, 0) + " a minute for this rhythm."
    choice["rate"] = rate
    choice["pulse"] = _pulse_row(choice["condition"]["pulse"])
    heights = veins.PATTERNS[choice["condition"]["veins"]]
    fibrillates = choice["rhythm"]["id"] == rhythms.FIBRILLATION
    choice["veins"] = veins.without_atria(heights) if fibrillates else heights
    choice["sounds"], choice["murmur"] = _sounds_of(choice["condition"])
    return choice, ""


def _pulse_row(name):
    if name == "paradoxical":
        return {
            "name": "Paradoxical", "felt": "fades on each breath in", "outline": pulses.ORDINARY,
            "pressures": [pulses.PARADOXICAL],
        }
    return pulses.PULSES[name]


def _stretch(request):
    """The stretch asked for, on whole steps and within the tape."""
    first, until = [max(0, _number(request.get(entry)) or 0) // STEP * STEP for entry in ("from", "until")]
    first = min(first, TAPE - STEP)
    return first, max(first + STEP, min(until, first + LONGEST, TAPE))


def _number(text):
    """Read a whole number, or None."""
    value = parse(text)[0] if isinstance(text, str) else None
    return None if value is None else math.floor(value)


def tape(choice):
    """Give the whole tape of a choice: {"beats", "own_p_waves"}, each beat with its pressures and its first sound."""
    made = rhythms.rhythm(choice["rate"], choice["rhythm"]["id"], FIRST_BEAT, TAPE)
    for beat in made["beats"]:
        _fill(beat, choice, made["own_p_waves"])
    return made


def _fill(beat, choice, own_p_waves):
    """Say how strong a beat is: its pressures in mmHg, and the loudness of its first sound and its murmurs."""
    condition, kind = choice["condition"], choice["rhythm"]["id"]
    mean = 60000 / choice["rate"]
    stroke = max(WEAKEST, min(STRONGEST, 1 + FOLLOWS * (beat["before"] / mean - 1)))
    breath = breath_at(choice["breathing"], beat["start"] + beat["aortic_opening"])
    high, low = _pressures(choice["pulse"]["pressures"], kind, beat["number"])
    if kind == rhythms.BLOCK:
        high, low = high + LARGE_TOP, low - LARGE_FOOT
    pushed = min(stroke, 1.0) if condition.get("steady") else stroke
    if beat["ectopic"]:
        pushed *= ECTOPIC_STROKE
    fall = condition["fall"] * choice["breathing"]["pressure"] * breath
    beat["outline"] = choice["pulse"]["outline"]
    beat["low"] = low
    beat["high"] = max(low + LEAST_PULSE, low + (high - low) * pushed - fall)
    # A murmur that does not follow the stroke is only ever softer in a weak beat, never louder in a strong one.
    beat["murmur"] = (stroke if condition.get("grows") else min(1.0, stroke)) * (1 + condition.get("right", 0) * breath)
    beat["first"] = _first_sound(beat, kind, mean, own_p_waves)


def _pressures(in_turn, kind, number):
    """The pressures of a beat. Strong and weak take turns at a regular rhythm only; else their mean holds."""
    if kind == rhythms.REGULAR:
        return in_turn[number % len(in_turn)]
    high = low = 0.0
    for pair in in_turn:
        high += pair[0] / len(in_turn)
        low += pair[1] / len(in_turn)
    return high, low


def _first_sound(beat, kind, mean, own_p_waves):
    """How loud the first sound is beside that of the condition."""
    if kind == rhythms.FIBRILLATION:
        return max(SOFT, min(LOUD, 1 + FIRST_FOLLOWS * (1 - beat["before"] / mean)))
    if kind != rhythms.BLOCK:
        return 1.0
    gaps = [beat["start"] - p_wave for p_wave in own_p_waves if 0 <= beat["start"] - p_wave < FAR]
    gap = max(NEAR, min(gaps)) if gaps else FAR
    return LOUD - (LOUD - SOFT) * (gap - NEAR) / (FAR - NEAR)


def breath_at(breathing, at):
    """Give how far breathed in somebody is at a time: 0 out, 1 in. Held breath: 0."""
    if not breathing["period"]:
        return 0.0
    return (1 - math.cos(2 * math.pi * at / breathing["period"])) / 2


def _breaths_in(breathing, first, until):
    """The stretches in which the breath goes in, [[from, until]], that begin from `first` to before `until`."""
    period = breathing["period"]
    if not period:
        return []
    begins = range(-(-first // period), -(-until // period))
    return [[number * period, number * period + period // 2] for number in begins]


def _near(made, first, until):
    """The part of a tape that shapes a stretch: the beats in it, and two on either side."""
    beats = made["beats"]
    places = [number for number in range(len(beats)) if first - 2000 < beats[number]["start"] < until + 500]
    chosen = beats[max(0, places[0] - 2):places[-1] + 3]
    begin, end = chosen[0]["start"] - 200, chosen[-1]["start"] + chosen[-1]["length"]
    return {"beats": chosen, "own_p_waves": [at for at in made["own_p_waves"] if begin < at < end]}


def _lane(name, words, unit, limits, ticks, heights):
    whole = WHOLE[name]
    return {
        "id": name, "name": words, "unit": unit, "scale": whole,
        "ticks": [tick for tick in ticks if limits[0] < tick < limits[1]],
        "low": math.floor(limits[0] * whole), "high": math.ceil(limits[1] * whole),
        "samples": [math.floor(height * whole + 0.5) for height in heights],
    }


def _ecg(choice, near, first, count):
    found = []
    for beat in near["beats"]:
        found.extend(electrocardiogram.beat_points(beat["start"], beat["second_sound"], beat["ectopic"]))
        if choice["rhythm"]["id"] == rhythms.FIBRILLATION:
            end = beat["start"] + beat["length"]
            found.extend(electrocardiogram.ripples(beat["start"], end, beat["second_sound"]))
    heights = _sampled(electrocardiogram.merged(found), first, count)
    # Where the atria keep their own time a P wave may fall on a QRS or T wave: the two add up.
    waves = []
    for p_wave in sorted(_p_waves(near)):
        for x, y in electrocardiogram.P_WAVE:
            waves.append((p_wave + x - electrocardiogram.P_WAVE[0][0], y))
    if waves:
        added = _sampled(waves, first, count)
        heights = [heights[place] + added[place] for place in range(count)]
    return heights


def _pulse_scale(made):
    """The scale of the arterial pulse in mmHg: tens that hold the whole tape."""
    low = min([beat["low"] for beat in made["beats"]])
    high = max([beat["high"] for beat in made["beats"]])
    return (low - 8) // 10 * 10, (high + 8) // 10 * 10 + 10


def _p_waves(near):
    conducted = [beat["start"] + electrocardiogram.P_WAVE[0][0] for beat in near["beats"] if beat["conducted"]]
    return conducted + near["own_p_waves"]


def _pulse(near, first, count):
    found = []
    for beat in near["beats"]:
        foot = beat["start"] + beat["aortic_opening"]
        ejection = beat["second_sound"] - beat["aortic_opening"]
        # The next upstroke cuts off what a fast heart has no time for.
        end = foot + beat["length"] - 40
        outline = pulses.beat_points(beat["outline"], foot, ejection, beat["low"], beat["high"])
        found.extend([point for point in outline if point[0] < end])
    return _sampled(found, first, count)


def _veins(choice, near, first, count):
    fall = choice["condition"]["venous_fall"] * choice["breathing"]["pressure"]
    found = [point for _, point in _vein_points(choice, near)]
    heights = _sampled(found, first, count)
    if fall and choice["breathing"]["period"]:
        for place in range(count):
            heights[place] -= fall * breath_at(choice["breathing"], first + place * STEP)
    return heights


def _vein_points(choice, near):
    return veins.points(choice["veins"], near["beats"], near["own_p_waves"])


def _ceiling(choice):
    """The top of the scale of the neck veins, in mmHg."""
    heights, fall = choice["veins"], choice["condition"]["venous_fall"]
    tallest = heights["v"]
    if heights["a"] is not None:
        leaps = choice["rhythm"]["id"] in (rhythms.ECTOPIC, rhythms.BLOCK)
        tallest = max(tallest, heights["a"] + (veins.CANNON if leaps else 0))
    tallest += max(0.0, -fall * choice["breathing"]["pressure"])
    return next(top for top in CEILINGS if top > tallest + 1)


def _sounds_of(condition):
    """What is heard in a condition: the sounds that every beat may have, and the row of its murmur."""
    murmur = murmurs.MURMURS[condition["murmur"]] if "murmur" in condition else murmurs.PLAIN
    sounds = {
        "first": condition.get("first", murmur["first"]),
        "aortic": condition.get("aortic", murmur["second"]),
        "pulmonary": condition.get("pulmonary", 1.0),
        "fixed_split": condition.get("fixed_split", False),
        "third": condition.get("third", murmur["third"]),
        "fourth": condition.get("fourth", False),
        "click": condition.get("click", murmur["click"]),
        "snap": murmur["snap"],
        "knock": condition.get("knock"),
    }
    return sounds, murmur


def _tones(choice, beat):
    """The heart sounds of one beat."""
    sounds = dict(choice["sounds"])
    sounds["first"] = min(LOUDEST, sounds["first"] * beat["first"])
    breath = choice["breathing"]["split"] * breath_at(choice["breathing"], beat["start"] + beat["second_sound"])
    return phonocardiogram.tones(beat, sounds, breath)


def _sounds(choice, near, first, count):
    swings = [0.0] * count
    beats = near["beats"]
    for place in range(len(beats)):
        beat = beats[place]
        for tone in _tones(choice, beat):
            phonocardiogram.add_tone(swings, first, STEP, tone)
        envelopes = list(choice["murmur"]["envelopes"])
        if place + 1 < len(beats) and beats[place + 1]["conducted"]:
            envelopes.extend(choice["murmur"]["presystolic"])
        for envelope in envelopes:
            phonocardiogram.add_murmur(swings, first, STEP, envelope, beat, beat["murmur"])
    start = first // STEP
    return [swings[place] if (start + place) % 2 else -swings[place] for place in range(count)]


def _sampled(points, first, count):
    return curves.sampled(points, first, STEP, count)


def _marks(choice, near, first, until):
    """The names of waves and sounds in a stretch, by lane and time."""
    found = []
    for wave, (at, level) in _vein_points(choice, near):
        if wave in WAVES:
            words = "cv" if wave == "v" and choice["veins"]["x_prime"] is None else wave
            found.append(_mark("veins", at, math.floor(level * WHOLE["veins"] + 0.5), words))
    for beat in near["beats"]:
        for name, at, _ in _tones(choice, beat):
            if name != "P2":
                middle = at + phonocardiogram.WIDTHS[name] / 2
                found.append(_mark("sounds", middle, 0, "S2" if name == "A2" else name))
    return [mark for mark in found if first <= mark["at"] < until]


def _mark(lane, at, level, words):
    return {"lane": lane, "at": math.floor(at + 0.5), "level": level, "words": words, "below": int(words in BELOW)}


def _beat(made, choice, beat):
    """One beat for the page: when it comes, when its sounds fall, and what to see in it, in words."""
    start, until = beat["start"], beat["start"] + beat["length"]
    leap = False
    if choice["veins"]["a"] is not None:
        leap = any([
            start - 250 < veins.crest(p_wave) < until - 250 and veins.shut_for(p_wave, made["beats"])
            for p_wave in made["own_p_waves"]
        ])
    breathing = choice["breathing"]
    into = start + beat["aortic_opening"]
    inwards = breath_at(breathing, into) < breath_at(breathing, into + 1) if breathing["period"] else None
    return {
        "start": math.floor(start + 0.5),
        "until": math.floor(until + 0.5),
        "first": math.floor(start + beat["first_sound"] + 0.5),
        "second": math.floor(start + beat["second_sound"] + 0.5),
        "told": wave_words.beat(choice, beat, leap, inwards),
    }
