"""The second heart sound in breathing, and the sounds that follow it: bars on a ruler in milliseconds.

The split in breathing: `calculators.models.cycle`. The reversed split has no figures: its bars are a diagram.
Early diastolic sounds: shaver1990, from memory; third sound abrams1978, abstract.
"""

from __future__ import annotations

from dataclasses import dataclass

from build_tools.figures.drawing import label
from build_tools.figures.svg import element, lines, picture
from build_tools.figures.traces import Strip, level, small, sound
from calculators.models.cycle import SPLIT_AORTIC_IN as IN_AORTIC
from calculators.models.cycle import SPLIT_OUT as OUT
from calculators.models.cycle import SPLIT_PULMONARY_IN as IN_PULMONARY
from calculators.models.cycle import SPLIT_REVERSED as REVERSED
from calculators.models.cycle import SPLIT_SEPTAL_CHANGE as SEPTAL_CHANGE
from calculators.models.cycle import SPLIT_SEPTAL_DEFECT as SEPTAL_DEFECT


@dataclass(frozen=True)
class Split:
    """A pattern: name, and on breathing out and in the times (A2, P2) in ms after A2 of a quiet breath out."""

    name: str
    told: str
    out: tuple[float, float]
    breath_in: tuple[float, float]


SPLITS = (
    Split("Normal", "one, then two", (0, OUT), (IN_AORTIC, OUT + IN_PULMONARY)),
    Split("Wide, moving", "two, then wider", (0, SEPTAL_DEFECT), (IN_AORTIC, SEPTAL_DEFECT + IN_PULMONARY)),
    Split("Wide, fixed", "two, the same", (0, SEPTAL_DEFECT), (0, SEPTAL_DEFECT + SEPTAL_CHANGE)),
    Split("Reversed", "two, then one", (REVERSED, 0), (REVERSED + IN_AORTIC, IN_PULMONARY)),
)
STRIP = Strip(-20, 100, 64, 326)


def splitting(prefix: str) -> str:
    """Draw four patterns of the second sound, breathing out above breathing in."""
    rows = []
    for index, split in enumerate(SPLITS):
        top = index * 116.0
        rows += [label((0, top + 13), split.name, bold=True), small((336, top + 13), split.told, "end")]
        for words, (aortic, pulmonary), middle in (("breath out", split.out, top + 42),
                                                   ("breath in", split.breath_in, top + 82)):
            rows += [
                small((0, middle + 4), words), level(STRIP, middle),
                _part(aortic, middle, 32, "A2", pulmonary, hollow=False),
                _part(pulmonary, middle, 22, "P2", aortic, hollow=True),
            ]
    foot = len(SPLITS) * 116.0 + 6
    return picture(
        340, foot + 22, *rows, _scale(foot, range(-20, 101, 20)),
        prefix=prefix,
        title="Splitting of the second heart sound in breathing",
        description=(
            "Four patterns, each on breathing out and on breathing in, on a ruler in milliseconds. Filled bar A2, the "
            "aortic valve; open bar P2, the pulmonary valve. Normal: 11 ms apart on breathing out, heard as one; 48 ms "
            "on breathing in, heard as two. Wide and moving: apart on breathing out and wider on breathing in. Wide "
            "and fixed: apart and hardly changed. Reversed: P2 first; apart on breathing out, together on breathing in."
        ),
        class_="drawing",
    )


def _part(time: float, middle: float, tall: float, name: str, other: float, hollow: bool) -> str:
    """Draw one part of the second sound with its name on the side away from the other part."""
    x = STRIP.x(time)
    at = (x + 9, middle - 6) if time >= other else (x - 4, middle - 6)
    return sound(x, middle, tall, hollow=hollow, class_=f"trace-sound sound-{name.lower()}") + label(
        at, name, "start" if time >= other else "end")


def _scale(top: float, marks: range, strip: Strip = STRIP) -> str:
    ticks = [(strip.x(mark), top - 6, strip.x(mark), top) for mark in marks]
    numbers = "".join(
        small((strip.x(mark), top + 13), f"{mark}".replace("-", "\N{MINUS SIGN}"), "middle") for mark in marks
    ) + small((0, top + 13), "ms")
    return level(strip, top - 6) + element("path", d=lines(ticks), stroke="currentColor", stroke_width=1,
                                           fill="none") + numbers


# ---- Sounds soon after the second ----

LADDER = (
    ("P2", 0.0, 50.0, "high"),
    ("Opening snap", 40.0, 120.0, "high"),
    ("Pericardial knock", 60.0, 120.0, "sharp"),
    ("Tumour plop", 80.0, 130.0, "low"),
    ("Third sound", 130.0, 180.0, "low thud"),
)


def early_diastolic_sounds(prefix: str) -> str:
    """Draw when each early diastolic sound comes after A2."""
    strip = Strip(0, 200, 30, 326)
    rows = []
    for index, (name, low, high, pitch) in enumerate(LADDER):
        top = 4 + index * 42.0
        rows += [
            element("rect", x=strip.x(low), y=top + 17, width=(high - low) * strip.unit, height=13,
                    class_="drawn-bar drawn-ladder", fill="none", stroke="currentColor", stroke_width=1.2),
            label((34, top + 12), name, bold=True),
            small((338, top + 12), f"{low:g}\N{EN DASH}{high:g} ms, {pitch}", "end"),
        ]
    foot = 4 + len(LADDER) * 42.0 + 8
    told = "; ".join(f"{name} {low:g} to {high:g} ms, {pitch}" for name, low, high, pitch in LADDER)
    return picture(
        340, foot + 22, sound(strip.x(0) - 5, foot / 2 - 3, foot - 8, class_="trace-sound sound-a2"), *rows,
        label((0, foot / 2), "A2", bold=True),
        _scale(foot, range(0, 201, 50), strip),
        prefix=prefix,
        title="Sounds soon after the second sound, by their delay",
        description=f"Bars on a ruler that starts at A2, the aortic closing sound. {told}.",
        class_="drawing",
    )
