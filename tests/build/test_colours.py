"""The colours: readable on every ground they meet, and the dark ones written the same in both places."""

from __future__ import annotations

import re

import pytest

from build_tools.environment import ROOT

TOKENS = (ROOT / "build_tools" / "web" / "styles" / "tokens.css").read_text(encoding="utf-8")
COLOUR = re.compile(r"--pr-([a-z-]+):\s*(#[0-9a-f]{3,6})\b")


def block(start: str) -> dict[str, str]:
    """Give the colours of the rule that begins with `start`."""
    inside = TOKENS.split(start, 1)[1].split("}", 1)[0]
    return dict(COLOUR.findall(inside))


SCHEMES = {"light": block(":root {"), "dark": block(':root[data-scheme="night"] {')}


def luminance(colour: str) -> float:
    digits = colour.lstrip("#")
    if len(digits) == 3:
        digits = "".join(2 * digit for digit in digits)
    parts = [int(digits[at : at + 2], 16) / 255 for at in (0, 2, 4)]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """The contrast ratio of WCAG 2.2, 1 to 21."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize("scheme", SCHEMES)
def test_text_reaches_four_and_a_half_to_one_on_every_ground(scheme: str) -> None:
    colours = SCHEMES[scheme]
    grounds = ["paper", "raised", "sunk"]
    low = [
        (text, ground)
        for text in ("ink", "soft", "accent", "stop", "help", "care", "good", "box-ink")
        for ground in [*grounds, *(f"{each}-soft" for each in ("accent", "stop", "help", "care", "good"))]
        if (ground in grounds or text in ("ink", "soft") or ground == f"{text}-soft")
        and contrast(colours[text], colours[ground]) < 4.5
    ]
    assert not low
    assert contrast(colours["accent-ink"], colours["accent"]) >= 4.5
    assert contrast(colours["ink"], colours["box"]) >= 4.5


@pytest.mark.parametrize("scheme", SCHEMES)
def test_borders_and_marks_reach_three_to_one(scheme: str) -> None:
    colours = SCHEMES[scheme]
    for ground in ("paper", "raised", "sunk"):
        assert contrast(colours["edge"], colours[ground]) >= 3
        assert contrast(colours["accent"], colours["box"]) >= 3


def test_the_dark_colours_are_the_same_by_choice_and_by_device() -> None:
    assert SCHEMES["dark"] == block(':root:not([data-scheme="paper"], [data-scheme="night"]) {')
    assert SCHEMES["dark"].keys() == SCHEMES["light"].keys()
