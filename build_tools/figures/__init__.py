"""Pictures that the handbook draws itself: deterministic SVG with a title and a description, line work in the
colour of the text. A new figure is a function of a module here, entered below under the name that pages use."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import partial

from build_tools.figures import (
    ankle_index,
    arteries,
    atrium,
    axis,
    chest,
    cuffs,
    cycle,
    fingers,
    jugular,
    legs,
    likelihood,
    limbs,
    murmurs,
    neck,
    neck_front,
    retina,
    splitting,
)

FIGURES: dict[str, Callable[[str], str]] = {
    "ankle-brachial-ratio": ankle_index.ankle_brachial_ratio,
    "ankle-pressures": limbs.ankle_pressures,
    "apex-landmarks": chest.apex_landmarks,
    "cardiac-cycle": cycle.cardiac_cycle,
    "clubbing": fingers.clubbing,
    "cuff-at-heart-level": limbs.cuff_at_heart_level,
    "cuff-sizes": cuffs.cuff_sizes,
    "early-diastolic-sounds": splitting.early_diastolic_sounds,
    "frontal-axis": axis.frontal_axis,
    "fundus-grades": retina.fundus_grades,
    "jugular-abnormal": jugular.abnormal_waves,
    "jugular-cannon-waves": partial(jugular.one_pattern, name="cannon"),
    "jugular-flat": partial(jugular.one_pattern, name="flat"),
    "jugular-giant-a": partial(jugular.one_pattern, name="giant-a"),
    "jugular-large-v": partial(jugular.one_pattern, name="large-v"),
    "jugular-no-a": partial(jugular.one_pattern, name="no-a"),
    "jugular-no-y": partial(jugular.one_pattern, name="no-y"),
    "jugular-steep-y": partial(jugular.one_pattern, name="steep-y"),
    "jugular-waves": jugular.normal_waves,
    "jvp-height-at-angle": neck.height_at_angle,
    "leg-elevation": legs.leg_elevation,
    "listening-areas": chest.listening_areas,
    "murmur-shapes": murmurs.murmur_shapes,
    **{f"murmur-{name}": partial(murmurs.one_murmur, names=shown, title=title) for name, (shown, title)
       in murmurs.SORTS.items()},
    "neck-landmarks": neck_front.neck_landmarks,
    "pitting": legs.pitting,
    "probability-before-and-after": likelihood.before_and_after,
    "pulse-alternating": partial(arteries.one_pulse, name="alternating"),
    "pulse-collapsing": partial(arteries.one_pulse, name="collapsing"),
    "pulse-double": partial(arteries.one_pulse, name="double"),
    "pulse-paradoxical": arteries.paradoxical_pulse,
    "pulse-shapes": arteries.pulse_shapes,
    "pulse-sites": limbs.pulse_sites,
    "pulse-slow-rising": partial(arteries.one_pulse, name="slow-rising"),
    "pulse-small": partial(arteries.one_pulse, name="small"),
    "right-atrium-levels": atrium.levels,
    "scars-and-devices": chest.scars_and_devices,
    "splitting": splitting.splitting,
    "systole-and-rate": cycle.systole_and_rate,
}


def names() -> tuple[str, ...]:
    """Give the names of all figures."""
    return tuple(FIGURES)


def draw(name: str, prefix: str) -> str:
    """Draw a figure as SVG text; `prefix` begins every id in it. Raises KeyError when there is none of that name."""
    return FIGURES[name](prefix)


def in_words(drawn: str) -> str:
    """Give the description of a finished drawing, as HTML."""
    found = re.search(r"<desc[^>]*>(.*?)</desc>", drawn)
    return found.group(1) if found else ""
