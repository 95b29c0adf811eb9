"""Laboratories: places on a page where a model of `calculators/models` runs, put there by a fenced block.

A new one is a row of `LABORATORIES`: its id, the function that gives its static HTML (a `<section>` with
`data-laboratory` set to the id), and its model. Its script is web/scripts/ID.js, its style web/styles/ID.css
after the style that all share.
"""
from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from build_tools import listening_room, wave_laboratory

if TYPE_CHECKING:
    from build_tools.handbook import Handbook

MODELS = Path("calculators") / "models"


@dataclass(frozen=True)
class Laboratory:
    """What a laboratory is made of: its static HTML and the name of its model."""

    html: Callable[[Handbook], str]
    model: str


LABORATORIES = {
    "listening_room": Laboratory(listening_room.html, listening_room.MODEL),
    "wave_laboratory": Laboratory(wave_laboratory.html, wave_laboratory.MODEL),
}


def models() -> list[str]:
    """Give the names of all models that a laboratory shows."""
    return sorted({laboratory.model for laboratory in LABORATORIES.values()})


def model_for_door(handbook: Handbook, name: str) -> dict[str, Any]:
    """Give the data of a model as the door takes them: its TOML file, and its name."""
    return {"model": name, **handbook.models[name].data}
