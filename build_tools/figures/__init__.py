"""Pictures that the handbook draws itself: deterministic SVG with a title and a description, line work in the
colour of the text. A new figure is a function of a module here, entered below under the name that pages use."""

from __future__ import annotations

from collections.abc import Callable

from build_tools.figures import limbs, neck

FIGURES: dict[str, Callable[[str], str]] = {
    "ankle-pressures": limbs.ankle_pressures,
    "cuff-at-heart-level": limbs.cuff_at_heart_level,
    "jvp-height-at-angle": neck.height_at_angle,
    "pulse-sites": limbs.pulse_sites,
}


def names() -> tuple[str, ...]:
    """Give the names of all figures."""
    return tuple(FIGURES)


def draw(name: str, prefix: str) -> str:
    """Draw a figure as SVG text; `prefix` begins every id in it. Raises KeyError when there is none of that name."""
    return FIGURES[name](prefix)
