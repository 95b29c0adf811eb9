"""The finger from the side: profile angle, angle to the fingertip, and depth, with and without clubbing.

Means of 452 normal adults and 116 clubbed lung patients: moreira2004, abstract. Limits: myers2001, abstract.
Where the depths are taken: baughman1998, abstract. Points as in those papers: A the crease of the end joint, B the
nail fold, C a third of the way along the nail, D where the nail leaves the skin at the tip.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from build_tools.figures.drawing import Point, label, stroke
from build_tools.figures.svg import element, picture, smooth
from build_tools.figures.traces import small

SCALE = 3.7  # drawn units a millimetre
JOINT_TO_FOLD, NAIL, JOINT_DEPTH = 15.0, 13.0, 13.0  # millimetres, our own finger


@dataclass(frozen=True)
class Finger:
    """A finger: heading, profile and fingertip angle in degrees, depth ratio, and how far its back slopes down."""

    name: str
    profile: float
    hyponychial: float
    ratio: float
    slope: float


NORMAL = Finger("Not clubbed", 172.8, 181.5, 0.904, 8.0)
CLUBBED = Finger("Clubbed", 183.4, 201.4, 1.014, 1.0)
LIMITS = (176.0, 192.0, 1.0)


def clubbing(prefix: str) -> str:
    """Draw both fingers twice, in two tones of skin: above with the angles, below with the depths."""
    drawn = []
    for column, finger in enumerate((NORMAL, CLUBBED)):
        left = 4 + column * 172.0
        drawn += [
            label((left, 14), finger.name, bold=True),
            _finger(finger, (left + 44, 40), "light"), _angles(finger, (left + 44, 40)),
            small((left, 118), f"nail fold to nail {finger.profile:.0f}°"),
            small((left, 133), f"nail fold to tip {finger.hyponychial:.0f}°"),
            _finger(finger, (left + 44, 172), "dark"), _depths(finger, (left + 44, 172)),
            small((left, 250), f"depth b ÷ depth a = {finger.ratio:.2f}"),
        ]
    profile, tip, ratio = LIMITS
    return picture(
        340, 288, *drawn,
        label((4, 278), f"Limits: nail {profile:g}°, tip {tip:g}°, ratio {ratio:g}", bold=True),
        prefix=prefix,
        title="Finger from the side, without and with clubbing",
        description=(
            "An index finger from the side, not clubbed on the left and clubbed on the right; above in lighter, below "
            "in darker skin. Not clubbed: the skin before the nail and the nail meet in a shallow valley of 173 "
            "degrees, the line from the nail fold to the tip makes 182, and the finger is less deep at the nail fold "
            "than at the joint, ratio 0.90. Clubbed: the valley is gone, 183 degrees; the line to the tip makes 201; "
            "the finger is deeper at the nail fold than at the joint, ratio 1.01."
        ),
        class_="drawing",
    )


def _along(start: Point, degrees: float, millimetres: float) -> Point:
    """Go from a point in a direction, degrees downwards from level, on the sheet."""
    turn = math.radians(degrees)
    return start[0] + millimetres * SCALE * math.cos(turn), start[1] + millimetres * SCALE * math.sin(turn)


def landmarks(finger: Finger, joint: Point) -> dict[str, Point]:
    """Give the places of A, B, C and D of a finger whose end joint lies at `joint`."""
    fold = _along(joint, finger.slope, JOINT_TO_FOLD)
    return {
        "A": joint,
        "B": fold,
        "C": _along(fold, finger.slope + finger.profile - 180, NAIL / 3),
        "D": _along(fold, finger.slope + finger.hyponychial - 180, NAIL),
    }


def _floor(finger: Finger, joint: Point) -> tuple[float, float]:
    """Give the height of the palm side under the joint and under the nail fold."""
    fold = landmarks(finger, joint)["B"]
    return joint[1] + JOINT_DEPTH * SCALE, fold[1] + JOINT_DEPTH * finger.ratio * SCALE


def _finger(finger: Finger, joint: Point, tone: str) -> str:
    at = landmarks(finger, joint)
    under_joint, under_fold = _floor(finger, joint)
    fold, third, tip = at["B"], at["C"], at["D"]
    left = joint[0] - 44
    deep = JOINT_DEPTH * SCALE
    arch = (third[0] + tip[0]) / 2 + 2, (third[1] + tip[1]) / 2 - (2 if finger is NORMAL else 4)
    shape: list[Point] = [
        (left, joint[1] - 5), (joint[0] - 20, joint[1] - 2), joint, fold, third, arch, tip,
        (tip[0] + 9, tip[1] + 0.3 * deep), (tip[0] + 3, tip[1] + 0.62 * deep), (fold[0] + 22, under_fold - 2),
        (fold[0], under_fold), (joint[0] + 14, under_joint + 1), (joint[0], under_joint),
        (joint[0] - 20, under_joint + 3), (left, under_joint + 3),
    ]
    curve = [fold, third, arch, tip, _along(tip, finger.slope + 2 * (finger.hyponychial - 180) + 16, 2.6)]
    return element("path", d=smooth(shape), class_=f"skin-{tone}", fill="none", stroke="currentColor",
                   stroke_width=1.4, stroke_linejoin="round") + "".join(
        element("path", d=smooth(curve), class_=f"nail-{part}{tone}", fill="none", stroke="currentColor",
                stroke_width=width, stroke_linecap="round", stroke_linejoin="round")
        for part, width in (("edge-", 6.4), ("", 4.2)))


def _angles(finger: Finger, joint: Point) -> str:
    at = landmarks(finger, joint)
    beyond = _along(at["B"], finger.slope, 15)
    return (
        stroke(at["A"], at["B"], width=2, class_="drawn-mark drawn-fold-line")
        + stroke(at["B"], beyond, width=1, dashed=True, class_="drawn-accent")
        + stroke(at["B"], at["C"], width=2.6, class_="drawn-mark drawn-nail-line")
        + stroke(at["B"], at["D"], width=1.6, class_="drawn-mark drawn-tip-line")
        + "".join(element("circle", cx=x, cy=y, r=2.6, class_="drawn-mark drawn-spot", fill="currentColor",
                          stroke="#fff", stroke_width=0.8) for x, y in at.values())
    )


def _depths(finger: Finger, joint: Point) -> str:
    fold = landmarks(finger, joint)["B"]
    under_joint, under_fold = _floor(finger, joint)
    return (
        stroke(joint, (joint[0], under_joint), width=2.4, class_="drawn-on-skin drawn-depth-joint")
        + stroke(fold, (fold[0], under_fold), width=2.4, class_="drawn-on-skin drawn-depth-nail")
        + label((joint[0], joint[1] - 7), "a", "middle", bold=True)
        + label((fold[0], joint[1] - 7), "b", "middle", bold=True)
    )
