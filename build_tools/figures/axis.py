"""The frontal axis of the ECG: leads at their angles, sectors at the limits, and an axis worked out from two leads.

Limits: harrisonmanual2016, electrocardiography chapter. Measured 2nd to 98th percentile: mason2007, abstract.
Formula: novosel1999, abstract.
"""

from __future__ import annotations

import math

from build_tools.figures.drawing import Point, label, stroke
from build_tools.figures.svg import element, number, picture
from build_tools.figures.traces import small

CENTRE: Point = (170.0, 134.0)
RADIUS = 106.0
LEADS = {"I": 0.0, "II": 60.0, "aVF": 90.0, "III": 120.0, "aVR": -150.0, "aVL": -30.0}
NORMAL = (-30.0, 90.0)
THIN_TO = 110.0
EXAMPLE = (10.0, 8.0)  # net QRS in lead I and aVF, in millimetres: a made-up example


def axis_of(lead_one: float, foot: float) -> float:
    """Give the frontal axis in degrees from net QRS in leads I and aVF; unipolar leads are weaker by 2/√3."""
    return math.degrees(math.atan2(2 * foot / math.sqrt(3), lead_one))


def frontal_axis(prefix: str) -> str:
    """Draw the circle of leads with the normal sector and an example."""
    axis = axis_of(*EXAMPLE)
    tip = _at(axis, RADIUS - 8)
    spokes = []
    for name, angle in LEADS.items():
        far = _at(angle, RADIUS + 10)
        anchor = "start" if far[0] > CENTRE[0] + 20 else "end" if far[0] < CENTRE[0] - 20 else "middle"
        words = f"{name}{'|' if abs(angle) in (30, 150) else ' '}{_shown(angle)}"
        spokes += [
            stroke(_at(angle + 180, RADIUS), _at(angle, RADIUS), width=1, class_=f"drawn-soft lead-{name.lower()}"),
            label((far[0], far[1] + (14 if name == "aVF" else 4)), words, anchor, bold=True),
        ]
    return picture(
        340, 298,
        _sector(*NORMAL, RADIUS, "drawn-normal-axis drawn-systole"),
        _sector(NORMAL[1], THIN_TO, RADIUS, "drawn-thin-axis"),
        element("circle", cx=CENTRE[0], cy=CENTRE[1], r=RADIUS, fill="none", stroke="currentColor", stroke_width=1.4),
        *spokes,
        stroke(CENTRE, tip, width=3.4, class_="drawn-accent drawn-axis"),
        _head(axis, tip),
        label(_at(axis, RADIUS + 12), f"+{axis:.0f}°", bold=True, class_="drawn-accent"),
        small((_at(THIN_TO, RADIUS)[0] - 4, _at(THIN_TO, RADIUS)[1] + 20), _shown(THIN_TO), "end"),
        label(_at(-13, 74), "normal", "middle", bold=True),
        label(_at(-44, 80), "left", "middle", bold=True),
        label(_at(163, 72), "right", "middle", bold=True),
        label(_at(-166, 74), "extreme", "middle"),
        label((4, 292), f"Arrow: I +{EXAMPLE[0]:g} mm, aVF +{EXAMPLE[1]:g} mm, made up"),
        prefix=prefix,
        title="Frontal axis of the ECG",
        description=(
            "A circle with the six limb leads at their angles: I at 0 degrees, to the right on the sheet; II at plus "
            "60; aVF at plus 90, downwards; III at plus 120; aVR at minus 150; aVL at minus 30. The normal sector, "
            "minus 30 to plus 90 degrees, is shaded; the strip to plus 110, lines only, is common in thin healthy "
            "people. Beyond minus 30 lies left, beyond plus 90 right axis deviation. An arrow at plus "
            f"{axis:.0f} degrees is the axis of a made-up tracing with a net QRS of 10 mm in lead I and 8 mm in aVF."
        ),
        class_="drawing",
    )


def _shown(angle: float) -> str:
    sign = "+" if angle > 0 else "\N{MINUS SIGN}" if angle < 0 else ""
    return f"{sign}{abs(angle):g}°"


def _at(angle: float, far: float) -> Point:
    """Give a place at an angle, clockwise from the patient's left, as the ECG counts."""
    turn = math.radians(angle)
    return CENTRE[0] + far * math.cos(turn), CENTRE[1] + far * math.sin(turn)


def _sector(start: float, end: float, far: float, class_: str) -> str:
    (x0, y0), (x1, y1) = _at(start, far), _at(end, far)
    way = (
        f"M{number(CENTRE[0])} {number(CENTRE[1])}L{number(x0)} {number(y0)}"
        f"A{number(far)} {number(far)} 0 {1 if end - start > 180 else 0} 1 {number(x1)} {number(y1)}Z"
    )
    return element("path", d=way, class_=class_, fill="none", stroke="currentColor", stroke_width=1)


def _head(angle: float, tip: Point) -> str:
    points = [(tip[0] + 8 * math.cos(math.radians(angle + turn)), tip[1] + 8 * math.sin(math.radians(angle + turn)))
              for turn in (0, 130, 230)]
    way = "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points) + "Z"
    return element("path", d=way, class_="drawn-accent", fill="currentColor")
