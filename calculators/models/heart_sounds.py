"""Heart sounds and murmurs: one breath of them, to be played round and round.

Each sound is made once and laid into every beat; what would run past the end comes in again at the start, so the
end meets the start without a click. All but the making of the sounds is whole numbers, equal in every engine.

Request: {"model", "scene", "rate" (a minute), "area", "piece", "manoeuvre", "slow" (half speed), "shifted" (every
pitch higher, for small speakers)}; what is left out is the usual.
Answer: {"rate" (samples a second), "samples" [-32767 to 32767], "length" (ms), "beats", "breathing" (cycle, in or
out), "events" [{"id", "name", "label", "start", "end" (ms), "beat"}], "title", "caption" [sentences]}.
"""

import math

from calculators.models import heart_sound_words, synthesis
from calculators.models.heart_sound_plan import MURMUR_IDS, UNIT, chosen_of, plan_of, row

NAME = "heart_sounds"
# The loudest sample of an ordinary first sound where it is loudest; and of anything.
FULL = 12000
LIMIT = 32000
# Root mean square of a murmur of loudness 1 beside FULL: with it the ear finds a loud murmur as loud as the first sound
# or louder, though on a trace it is smaller. Our choice for teaching.
MURMUR = 0.13
# For how many ms the chest piece's filter may ring on after a sound.
RINGING = 12


def answer(data, request):
    """Give one breath of sound. data: heart_sounds.toml; request, answer: as above."""
    chosen, problem = chosen_of(data, request)
    if problem:
        return {"model": NAME, "state": "refused", "problem": problem}
    plan = plan_of(data, chosen)
    return {
        "model": NAME,
        "state": "answer",
        "rate": synthesis.RATE,
        "samples": _mixed(data, chosen, plan),
        "length": _ms(plan["count"]),
        "beats": plan["beats"],
        "breathing": chosen["manoeuvre"]["breathing"],
        "events": [
            {"id": event["id"], "name": event["name"], "label": event["label"], "start": _ms(event["at"]),
             "end": _ms(event["at"] + event["length"]), "beat": event["beat"]}
            for event in plan["events"] if event["gain"]
        ],
        "title": chosen["scene"]["name"],
        "caption": heart_sound_words.caption(data, chosen, plan),
    }


def _mixed(data, chosen, plan):
    """Lay every sound into one breath; a list of whole numbers."""
    made = {}
    mix = [0] * plan["count"]
    for event in plan["events"]:
        if not event["gain"]:
            continue
        if event["id"] not in made:
            made[event["id"]] = _whole(_made(data, chosen, plan, event["id"]))
        _lay(mix, made[event["id"]], event["at"], event["gain"])
    for place in range(len(mix)):
        if mix[place] > LIMIT:
            mix[place] = LIMIT
        elif mix[place] < -LIMIT:
            mix[place] = -LIMIT
    return mix


def _made(data, chosen, plan, name):
    """Make a sound, through the chest piece."""
    if name in MURMUR_IDS:
        return _murmur(chosen, plan["outlines"][MURMUR_IDS.index(name)])
    sound, stretch, pitch = row(data["sounds"], name), chosen["stretch"], chosen["pitch"]
    count = synthesis.samples(sound["length"] * stretch)
    later = synthesis.samples(sound.get("second", 0) * stretch)
    swell = synthesis.samples(sound["swell"] * stretch)
    one = synthesis.tone([(hz * pitch, level) for hz, level in sound["partials"]], count - later, swell)
    found = one + [0.0] * later
    if later:
        for place in range(len(one)):
            found[place + later] += one[place] * sound["second_level"] / 100
    # The filter rings on a little; that is led to nothing.
    fade = synthesis.samples(RINGING)
    found = _heard(chosen, found + [0.0] * fade)
    for place in range(fade):
        found[len(found) - 1 - place] *= place / fade
    return found


def _murmur(chosen, points):
    """Make a murmur: noise or a hum within its outline."""
    scene, pitch = chosen["scene"], chosen["pitch"]
    start = points[0][0]
    inside = [(place - start, high) for place, high in points]
    count = inside[-1][0]
    if "hum" in scene:
        return synthesis.shaped(_heard(chosen, synthesis.hum(scene["hum"] * pitch, 0.25, count)), inside, 1, MURMUR)
    low, high = scene["band"][0] * pitch, scene["band"][1] * pitch
    if not scene.get("jet"):
        found = _heard(chosen, synthesis.hiss(low, high, count))
    else:
        # Two halves of the band; the upper grows as the square, so the pitch rises and falls with the jet.
        middle = math.sqrt(low * high)
        lower = synthesis.shaped(_heard(chosen, synthesis.hiss(low, middle, count)), inside, 1, MURMUR * 0.7)
        upper = synthesis.shaped(_heard(chosen, synthesis.hiss(middle, high, count)), inside, 2, MURMUR * 0.7)
        return [lower[place] + upper[place] for place in range(count)]
    if "grains" in scene:
        found = synthesis.grained(found, scene["grains"] / chosen["stretch"])
    return synthesis.shaped(found, inside, 1, MURMUR)


def _heard(chosen, sound):
    """Send a sound through the chest piece."""
    piece, pitch = chosen["piece"], chosen["pitch"]
    found = synthesis.filtered(sound, synthesis.low_shelf(piece["below"] * pitch, piece["decibels"]))
    return synthesis.filtered(found, synthesis.low_pass(piece["above"] * pitch))


def _whole(sound):
    return [math.floor(value * FULL + 0.5) for value in sound]


def _lay(mix, sound, at, gain):
    """Add a sound to the mix; what runs past the end comes in at the start."""
    count = len(mix)
    place = at % count
    for value in sound:
        mix[place] += value * gain // UNIT
        place += 1
        if place == count:
            place = 0


def _ms(count):
    return math.floor(count * 1000 / synthesis.RATE + 0.5)
