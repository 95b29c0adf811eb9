"""What sounds when, in words: for those who cannot hear, and for those who check what they heard."""

from calculators.models import synthesis
from calculators.models.heart_sound_plan import MURMUR_IDS, ONE_SOUND, row
from calculators.numbers import fixed


def caption(data, chosen, plan):
    """Give what is heard as sentences; times in ms from the first sound, as in a chest at that rate."""
    beat = plan["beat"]
    second = _second(chosen, plan)
    where = _small(chosen["area"]["name"]) + ", " + _small(chosen["piece"]["name"])
    systole = second - beat["first_sound"]
    told = [
        chosen["scene"]["name"] + " at " + fixed(chosen["rate"], 0) + " beats a minute, " + where + ".",
        "From the first to the second sound " + fixed(systole, 0) + " ms, from there to the next first sound "
        + fixed(beat["length"] - systole, 0) + " ms.",
    ]
    for _, sentence in sorted(_sounds(chosen, plan) + _murmurs(chosen, plan)):
        told.append(sentence)
    told.append(_change(data, chosen, plan))
    if chosen["stretch"] != 1:
        told.append("Played at half speed: all these times are doubled, the pitch is not changed.")
    if chosen["pitch"] != 1:
        told.append("Pitch shifted: every sound is " + fixed(chosen["pitch"], 0) + " times higher than in a chest.")
    return [sentence for sentence in told if sentence]


def _small(name):
    return name[:1].lower() + name[1:]


def _second(chosen, plan):
    """Give when the second sound begins: on breathing out, unless every beat is one of breathing in."""
    aortic, pulmonary = plan["split_in"] if chosen["manoeuvre"]["breathing"] == "in" else plan["split_out"]
    return plan["beat"]["second_sound"] + min(aortic, pulmonary)


def _sounds(chosen, plan):
    """Give (ms, sentence) of each sound of the first beat."""
    found = []
    heard = [event["id"] for event in plan["events"] if event["gain"] and event["beat"] == 0]
    for event in plan["events"]:
        if event["beat"] != 0 or event["id"] not in heard or event["id"] in MURMUR_IDS or event["id"] == "P2":
            continue
        ms = _chest_ms(chosen, plan, event["at"])
        if event["id"] == "A2":
            ms = _second(chosen, plan) - plan["beat"]["first_sound"]
            found.append((ms, fixed(ms, 0) + " ms: second sound, " + event["told"] + ". "
                          + _split_words(chosen, plan, "P2" in heard)))
        else:
            length = fixed(event["length"] * 1000 / synthesis.RATE / chosen["stretch"], 0)
            when = fixed(ms, 0) + " ms: " if ms >= 0 else fixed(-ms, 0) + " ms before the first sound: "
            found.append((ms, when + _small(event["name"]) + ", " + event["told"] + " (" + length
                          + " ms)."))
    return found


def _chest_ms(chosen, plan, at):
    """Give the ms from the first sound at which a sample of the first beat would be heard in a chest."""
    return at * 1000 / synthesis.RATE / chosen["stretch"] - plan["beat"]["first_sound"]


def _split_words(chosen, plan, both):
    if not both:
        return "Only its aortic part is heard here."
    out = _apart("Breathing out: ", plan["split_out"])
    breath_in = _apart("Breathing in: ", plan["split_in"])
    breathing = chosen["manoeuvre"]["breathing"]
    if breathing == "in":
        return breath_in
    return out if breathing == "out" else out + " " + breath_in


def _apart(when, parts):
    gap = parts[1] - parts[0]
    words = when + "parts " + fixed(abs(gap), 0) + " ms apart, heard as "
    words += "one" if abs(gap) < ONE_SOUND else "two"
    if gap <= -ONE_SOUND:
        words += ", the pulmonary part first"
    return words + "."


def _murmurs(chosen, plan):
    """Give (ms, sentence) of each stretch of murmur in the first beat."""
    found = []
    scene = chosen["scene"]
    heard = [event["id"] for event in plan["events"] if event["gain"] and event["beat"] == 0]
    for place in range(len(plan["outlines"])):
        points = plan["outlines"][place]
        start, end = _chest_ms(chosen, plan, points[0][0]), _chest_ms(chosen, plan, points[-1][0])
        if MURMUR_IDS[place] not in heard:
            if place == 0:
                found.append((start, "The murmur does not reach this place."))
            continue
        what = "rub" if "phases" in scene else "murmur"
        sentence = fixed(start, 0) + " to " + fixed(end, 0) + " ms, " + _phase(plan, start, end) + ": " + what
        if place == 0:
            sentence += ", " + scene["words"]
        loudest = _loudest(points)
        if loudest is not None:
            sentence += "; loudest at " + fixed(_chest_ms(chosen, plan, loudest), 0) + " ms"
        found.append((start, sentence + "."))
    return found


def _loudest(points):
    """Where a murmur is loudest, in samples; None when it stays level."""
    best = 0
    for place in range(1, len(points)):
        if points[place][1] > points[best][1]:
            best = place
    level = len([high for _, high in points if high == points[best][1]]) > 1
    return None if level else points[best][0]


def _phase(plan, start, end):
    """Say in which part of the beat a stretch lies."""
    beat = plan["beat"]
    systole = beat["second_sound"] + plan["split_out"][0] - beat["first_sound"]
    diastole = beat["length"] - systole
    if start < systole * 0.98 and end > systole + diastole * 0.05:
        return "from systole through the second sound into diastole"
    if end <= systole * 1.02:
        share_start, share_end, name = start / systole, end / systole, "systole"
    else:
        share_start, share_end, name = (start - systole) / diastole, (end - systole) / diastole, "diastole"
    if share_start < 0.1 and share_end > 0.9:
        return "all " + name
    first, last = _third(share_start), _third(share_end - 0.01)
    if first == "early" and last == "late":
        return "most of " + name
    return (first if first == last else first + " to " + last) + " " + name


def _third(share):
    if share < 0.34:
        return "early"
    return "middle" if share < 0.67 else "late"


def _moved(data, chosen, plan):
    """Whether the manoeuvre moves a click that is heard."""
    if not [event for event in plan["events"] if event["id"] == "click"]:
        return False
    return row(data["sounds"], "click")["moved"].get(chosen["manoeuvre"]["id"]) is not None


def _change(data, chosen, plan):
    """Say what the manoeuvre does beside quiet breathing, and what breathing does."""
    scene, doing = chosen["scene"], chosen["manoeuvre"]
    name = "rub" if "phases" in scene else "murmur"
    told = []
    if doing["id"] in scene.get("up", []):
        told.append(doing["name"] + ": the murmur is louder than at rest.")
    elif doing["id"] in scene.get("down", []):
        told.append(doing["name"] + ": the murmur is softer than at rest.")
    elif doing["id"] in ("strain", "squatting", "standing", "handgrip") and not _moved(data, chosen, plan):
        told.append(doing["name"] + ": no change is made, since no published one was found.")
    if _moved(data, chosen, plan):
        told.append(doing["name"] + " moves the click" + (" and the murmur." if "murmur" in scene else "."))
    if "breath" in scene and doing["breathing"] != "out":
        way = "louder" if scene["breath"] == "up" else "softer"
        told.append("On breathing in the " + name + " is " + way + ".")
    return " ".join(told)
