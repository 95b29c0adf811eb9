"""Murmurs: when they start, how they swell and fade, and what manoeuvres do to their loudness.

Starts, ends and peaks: `calculators.models.murmurs`. Where the heart sounds fall: `timing`. What manoeuvres
do: secondary_reprint, table of manoeuvres. Heights are a diagram: no recording.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from build_tools.figures.drawing import Point, label
from build_tools.figures.svg import element, lines, path, picture
from build_tools.figures.timing import Beat, beat
from build_tools.figures.traces import Strip, level, small, sound
from calculators.models import murmurs

BEAT = beat(75)
STEP = 15.0  # milliseconds between two strokes of the hatching
UP, DOWN = "\N{UPWARDS ARROW}", "\N{DOWNWARDS ARROW}"


@dataclass(frozen=True)
class Murmur:
    """A murmur: name, character, envelopes, what manoeuvres do, and the sounds that belong to it.

    An envelope is a list of (time, loudness): time 0 is the first sound, 1 the second, 2 the next first sound;
    loudness is a share of the drawn height.
    """

    name: str
    character: str
    envelopes: tuple[tuple[Point, ...], ...]
    manoeuvres: str = ""
    click: float | None = None
    snap: float | None = None
    first: float = 1.0
    second: float = 1.0
    third: bool = False


def _murmur(name: str, title: str, character: str, manoeuvres: str = "") -> Murmur:
    row = murmurs.MURMURS[name]
    envelopes = tuple(tuple(envelope) for envelope in [*row["envelopes"], *row["presystolic"]])
    kept = {key: row[key] for key in ("click", "snap", "first", "second", "third")}
    return Murmur(title, character, envelopes, manoeuvres, **kept)


_ROWS = (
    ("innocent", "Innocent", "soft, short, early"),
    ("aortic-stenosis", "Aortic stenosis", "rough; later peak, worse", f"squat {UP}, strain {DOWN}, grip {DOWN}"),
    ("hypertrophic", "Outflow obstruction", "hypertrophic; late peak", f"strain {UP}, squat {DOWN}, grip {DOWN}"),
    ("mitral-regurgitation", "Mitral regurgitation", "level, blowing; S3 if severe",
     f"grip {UP}, squat {UP}, strain {DOWN}"),
    ("prolapse", "Mitral prolapse", "click, then rising", f"strain {UP}, squat {DOWN}, grip {DOWN}"),
    ("tricuspid-regurgitation", "Tricuspid regurgitation", "level, low left edge", f"breath in {UP}"),
    ("aortic-regurgitation", "Aortic regurgitation", "high, fading", f"grip {UP}, squat {UP}"),
    ("mitral-stenosis", "Mitral stenosis", "snap, low rumble", f"grip {UP}, squat {UP}"),
    ("continuous", "Patent duct", "through S2, machinery"),
)
MURMURS = {row[0]: _murmur(*row) for row in _ROWS}
# Each sort of murmur that a page describes: which are drawn, and the title.
SORTS = {
    "innocent": (("innocent", "aortic-stenosis"), "An innocent murmur above that of aortic stenosis"),
    "ejection-systolic": (("aortic-stenosis", "hypertrophic"), "Ejection systolic murmurs"),
    "pansystolic": (("mitral-regurgitation", "tricuspid-regurgitation"), "Pansystolic murmurs"),
    "late-systolic": (("prolapse",), "A click and a late systolic murmur"),
    "early-diastolic": (("aortic-regurgitation",), "An early diastolic murmur"),
    "mid-diastolic": (("mitral-stenosis",), "A mid-diastolic murmur with an opening snap"),
    "continuous": (("continuous",), "A continuous murmur"),
}
BEGINNING = (
    "Upright bars are the first and second heart sounds at 75 beats a minute, the hatched shape is the murmur: taller "
    "is louder."
)


def murmur_shapes(prefix: str) -> str:
    """Draw all murmurs in one grid, with what manoeuvres do."""
    panels = [
        _panel(murmur, (index % 2) * 174.0, (index // 2) * 130.0, 164)
        for index, murmur in enumerate(MURMURS.values())
    ]
    told = ". ".join(_told(murmur) for murmur in MURMURS.values())
    rows = (len(MURMURS) + 1) // 2
    words = f"{UP} louder|{DOWN} softer||strain: Valsalva strain|squat: from standing|grip: handgrip"
    key = label((174, (rows - 1) * 130 + 34), words)
    return picture(
        340, rows * 130, *panels, key,
        prefix=prefix,
        title="Shapes of murmurs and what manoeuvres do to them",
        description=f"{BEGINNING} {told}.",
        class_="drawing",
    )


def one_murmur(prefix: str, names: tuple[str, ...], title: str) -> str:
    """Draw the murmurs of one sort at full width, one under the other."""
    chosen = [MURMURS[name] for name in names]
    return picture(
        340, 130 * len(chosen) - 6, *(_panel(murmur, 0, index * 130.0, 338) for index, murmur in enumerate(chosen)),
        prefix=prefix,
        title=title,
        description=f"{BEGINNING} {'. '.join(_told(murmur) for murmur in chosen)}.",
        class_="drawing",
    )


def _told(murmur: Murmur) -> str:
    """Say in words what is drawn."""
    start, end = murmur.envelopes[0][0][0], murmur.envelopes[-1][-1][0]
    words = f"{murmur.name}: {murmur.character}; from {_when(start)} to {_when(end)}"
    if murmur.manoeuvres:
        words += f"; {murmur.manoeuvres.replace(UP, 'louder').replace(DOWN, 'softer')}"
    return words


def _when(time: float) -> str:
    if time in (0, 1, 2):
        return ("the first sound", "the second sound", "the next first sound")[int(time)]
    part = "systole" if time < 1 else "diastole"
    share = time % 1
    return f"{'early' if share < 0.34 else 'mid' if share < 0.67 else 'late'} {part}"


def _time(share: float, one: Beat) -> float:
    """Turn 0 to 1 (systole) and 1 to 2 (diastole) into milliseconds after the first sound."""
    return share * one.systole if share <= 1 else one.systole + (share - 1) * (one.length - one.systole)


def _panel(murmur: Murmur, left: float, top: float, wide: float) -> str:
    strip = Strip(-50, BEAT.length + 60, left, left + wide)
    middle = top + 66
    tall = 44.0
    drawn = [level(strip, middle)]
    drawn += [_envelope(envelope, strip, middle, tall / 2) for envelope in murmur.envelopes]
    for time, loud, name in ((0.0, murmur.first, "S1"), (BEAT.systole, murmur.second, "S2"),
                             (BEAT.length, murmur.first, "S1")):
        drawn.append(sound(strip.x(time), middle, 34 * loud, name, middle + 37))
    if murmur.click is not None:
        drawn.append(sound(strip.x(_time(murmur.click, BEAT)) - 2, middle, 38, "click", middle + 37, hollow=True))
    if murmur.snap is not None:
        drawn.append(sound(strip.x(BEAT.systole + murmur.snap), middle, 26, "snap", middle - 20, hollow=True))
    if murmur.third:
        drawn.append(sound(strip.x(BEAT.third_sound - BEAT.first_sound), middle, 14, "S3", middle + 37, hollow=True))
    drawn += [
        label((left, top + 13), murmur.name, bold=True),
        small((left, top + 27), murmur.character),
        small((left, top + 118), murmur.manoeuvres),
    ]
    return "".join(drawn)


def _envelope(envelope: tuple[Point, ...], strip: Strip, middle: float, half: float) -> str:
    """Draw the outline of a murmur and hatch it with upright strokes."""
    points = [(_time(share, BEAT), loud * half) for share, loud in envelope]
    outline = [(strip.x(time), middle - up) for time, up in points]
    outline += [(strip.x(time), middle + up) for time, up in reversed(points)]
    strokes = []
    time = points[0][0] + STEP / 2
    while time < points[-1][0]:
        up = _loudness(points, time)
        strokes.append((strip.x(time), middle - up, strip.x(time), middle + up))
        time += STEP
    return element("path", d=path(*outline, close=True), class_="trace-murmur drawn-accent", fill="none",
                   stroke="currentColor", stroke_width=1.2, stroke_linejoin="round") + element(
        "path", d=lines(strokes), class_="drawn-accent", fill="none", stroke="currentColor", stroke_width=1)


def _loudness(points: list[Point], time: float) -> float:
    """Give the height of a straight-sided envelope at a time."""
    for (x0, y0), (x1, y1) in pairwise(points):
        if x0 <= time <= x1:
            return y0 + (y1 - y0) * (time - x0) / (x1 - x0)
    return 0.0
