"""What sounds when and how loud: what was asked for, read, and the plan of one breath.

heart_sounds.py describes the request. Times and loudness come from heart_sounds.toml, cycle.py and murmurs.py.
"""

import math

from calculators.models import cycle, synthesis
from calculators.models.murmurs import MURMURS, PLAIN

# Parts of the second sound nearer than this, in ms, are told as heard as one. Our choice for teaching.
ONE_SOUND = 25
# How long after the start of an opening snap a rumble begins at the earliest, in ms: our choice for teaching.
AFTER_SNAP = 25
# In how many ms a murmur that is loud at once swells, and fades: a step would click. Our choice.
EDGE = 8
# Gains are whole numbers over this.
UNIT = 256
# The stretches of a murmur in a beat; none has more.
MURMUR_IDS = ("murmur-a", "murmur-b", "murmur-c")


def chosen_of(data, request):
    """Read a request: ({scene, area, piece, manoeuvre: rows; rate, stretch, pitch: numbers}, problem)."""
    chosen = {}
    for name, rows in (("scene", "scenes"), ("area", "areas"), ("piece", "pieces"), ("manoeuvre", "manoeuvres")):
        wanted = request.get(name)
        if wanted is None:
            wanted = "rest" if name == "manoeuvre" else data[rows][0]["id"]
        found = row(data[rows], wanted)
        if found is None:
            return None, "There is no " + name + " of that name here. Choose one of the list."
        chosen[name] = found
    rate = request.get("rate")
    if rate is None:
        rate = data["rate"]["usual"]
    if isinstance(rate, str) or isinstance(rate, list) or isinstance(rate, dict):
        return None, "The heart rate is not a number."
    # Said this way round, what is no number at all comes to the least.
    if not rate > data["rate"]["least"]:
        rate = data["rate"]["least"]
    if rate > data["rate"]["most"]:
        rate = data["rate"]["most"]
    chosen["rate"] = math.floor(rate)
    chosen["stretch"] = 2 if request.get("slow") else 1
    chosen["pitch"] = data["pitch"]["shifted"] if request.get("shifted") else 1
    return chosen, ""


def row(rows, wanted):
    """Give the row of an id, or None."""
    for one in rows:
        if one["id"] == wanted:
            return one
    return None


def plan_of(data, chosen):
    """Give what happens when: {count, beats, beat, shape, split_out, split_in, outlines, events}.

    count: samples; events: {id, name, label, told, at, length (samples), beat, gain}; gain: over UNIT.
    """
    scene = chosen["scene"]
    shape = MURMURS[scene["murmur"]] if "murmur" in scene else PLAIN
    beat = cycle.beat(chosen["rate"])
    beats = max(2, math.floor(chosen["rate"] / data["breath"]["a_minute"] + 0.5))
    beat_count = synthesis.samples(beat["length"] * chosen["stretch"])
    plan = {"beats": beats, "count": beats * beat_count, "events": [], "shape": shape, "beat": beat}
    plan["split_out"] = split(scene.get("split", "normal"), 0)
    plan["split_in"] = split(scene.get("split", "normal"), 1)
    plan["outlines"] = _outlines(data, chosen, plan)
    for number in range(beats):
        depth = _depth(chosen["manoeuvre"]["breathing"], number, beats)
        for event in _sounds(data, chosen, plan, depth) + _murmurs(data, chosen, plan, depth):
            event["at"] += number * beat_count
            event["beat"] = number
            plan["events"].append(event)
    return plan


def _sounds(data, chosen, plan, depth):
    """Give the heart sounds of a beat; depth: 0 at the end of a breath out, 1 at the end of a breath in."""
    scene, shape, beat, stretch = chosen["scene"], plan["shape"], plan["beat"], chosen["stretch"]
    aortic, pulmonary = split(scene.get("split", "normal"), depth)
    first, second = scene.get("first", shape["first"] * 100), scene.get("second", shape["second"] * 100)
    times = [
        ("S1", beat["first_sound"], first),
        ("A2", beat["second_sound"] + aortic, second),
        ("P2", beat["second_sound"] + pulmonary, second),
    ]
    for name in added(scene, shape):
        times.append((name, _when(data, chosen, plan, name, aortic), 100))
    found = []
    for name, ms, loud in times:
        sound = row(data["sounds"], name)
        gain = loud * sound["level"] * data["loudness"][sound["areas"][chosen["area"]["id"]]]
        found.append({
            "id": name, "name": sound["name"], "label": sound["label"], "told": sound["told"] + _beside_usual(loud),
            "at": synthesis.samples(ms * stretch), "length": synthesis.samples(sound["length"] * stretch),
            "gain": math.floor(gain * UNIT / 1000000 + 0.5),
        })
    gap = pulmonary - aortic
    if found[2]["gain"] and abs(gap) >= ONE_SOUND:
        found[1]["label"] = "A2 P2" if gap > 0 else "P2 A2"
    return found


def _murmurs(data, chosen, plan, depth):
    """Give the stretches of murmur of a beat; depth as in `_sounds`."""
    gain = murmur_gain(data, chosen, depth)
    found = []
    for place in range(len(plan["outlines"])):
        points = plan["outlines"][place]
        found.append({
            "id": MURMUR_IDS[place], "name": "Rub" if "phases" in chosen["scene"] else "Murmur", "label": "",
            "told": "", "at": points[0][0], "length": points[-1][0] - points[0][0],
            "gain": math.floor(gain * UNIT / 100 + 0.5),
        })
    return found


def _beside_usual(loud):
    if loud == 100:
        return ""
    return ", louder than usual" if loud > 100 else ", softer than usual"


def split(pattern, depth):
    """Give (A2, P2) in ms after the second sound of an ordinary breath out; depth: 0 out to 1 in."""
    aortic, pulmonary = cycle.SPLIT_AORTIC_IN * depth, cycle.SPLIT_PULMONARY_IN * depth
    if pattern == "wide":
        return aortic, cycle.SPLIT_SEPTAL_DEFECT + pulmonary
    if pattern == "fixed":
        return 0.0, cycle.SPLIT_SEPTAL_DEFECT + cycle.SPLIT_SEPTAL_CHANGE * depth
    if pattern == "reversed":
        return cycle.SPLIT_REVERSED + aortic, pulmonary
    return aortic, cycle.SPLIT_OUT + pulmonary


def added(scene, shape):
    """Give the ids of the sounds beside the first and the second."""
    found = list(scene.get("added", []))
    for name, has in (("S3", shape["third"]), ("click", shape["click"]), ("snap", shape["snap"])):
        if has:
            found.append(name)
    return found


def _depth(breathing, number, beats):
    """How deep the breath is at a beat: 0 out, 1 in."""
    if breathing == "in":
        return 1.0
    if breathing == "out":
        return 0.0
    return (1 - math.cos(2 * math.pi * number / beats)) / 2


def _when(data, chosen, plan, name, aortic):
    """When an added sound begins, in ms after the start of the QRS."""
    beat = plan["beat"]
    first, second = beat["first_sound"], beat["second_sound"] + aortic
    if name == "S3":
        return second + beat["third_sound"] - beat["second_sound"]
    if name == "S4":
        return first - cycle.FOURTH_SOUND
    if name == "snap":
        return second + MURMURS["mitral-stenosis"]["snap"]
    if name == "click":
        return first + click_share(data, chosen) * (second - first) / 100
    return first + row(data["sounds"], name)["after"]


def click_share(data, chosen):
    """Where in systole the click of prolapse falls, in per cent."""
    usual = MURMURS["prolapse"]["click"] * 100
    return row(data["sounds"], "click")["moved"].get(chosen["manoeuvre"]["id"], usual)


def _outlines(data, chosen, plan):
    """Give the outlines of the murmur in samples after the start of its beat: [[(sample, height)]]."""
    scene, shape = chosen["scene"], plan["shape"]
    wanted = [[(share / 100, high / 100) for share, high in phase] for phase in scene.get("phases", [])]
    wanted = wanted + shape["envelopes"] + shape["presystolic"]
    if shape["click"]:
        # What begins with the click moves with it; its end stays at the second sound.
        start = click_share(data, chosen) / 100
        wanted = [[(1 - (1 - share) * (1 - start) / (1 - shape["click"]), high) for share, high in points]
                  for points in wanted]
    return [_outline(chosen, plan, points) for points in wanted]


def _outline(chosen, plan, points):
    beat = plan["beat"]
    first, second = beat["first_sound"], beat["second_sound"] + plan["split_out"][0]
    following = beat["length"] + first
    # A rumble waits for the valve to snap open, however short the beat.
    opened = second + plan["shape"]["snap"] + AFTER_SNAP if plan["shape"]["snap"] else 0
    found = []
    for share, high in points:
        if share <= 1:
            ms = first + share * (second - first)
        else:
            ms = max(opened, second + (share - 1) * (following - second))
        found.append((synthesis.samples(ms * chosen["stretch"]), high))
    edge = synthesis.samples(EDGE)
    start, end = found[0], found[-1]
    if start[1]:
        found[0] = (start[0] + edge, start[1])
        found.insert(0, (start[0], 0.0))
    if end[1]:
        found[-1] = (end[0] - edge, end[1])
        found.append((end[0], 0.0))
    return found


def murmur_gain(data, chosen, depth):
    """Give the loudness of the murmur in per cent: by area, manoeuvre and breath."""
    scene, change, doing = chosen["scene"], data["change"], chosen["manoeuvre"]["id"]
    if "areas" not in scene:
        return 0
    gain = data["loudness"][scene["areas"][chosen["area"]["id"]]] * scene.get("loud", 100) / 100
    if "breath" in scene:
        gain *= 1 + (change["breath_" + scene["breath"]] / 100 - 1) * depth
    for way in ("up", "down"):
        if doing in scene.get(way, []):
            gain *= change[way] / 100
    return gain
