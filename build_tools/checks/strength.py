"""Strength: the word for how far a sign moves probability must follow from the figure beside it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from build_tools.problems import Problem

if TYPE_CHECKING:
    from build_tools.handbook import Handbook

# From this likelihood ratio upwards (for), or from its inverse downwards (against).
EDGES = ((10.0, "strong"), (5.0, "moderate"), (2.0, "weak"))


def word_for(ratio: float) -> str:
    """Return the strength of a likelihood ratio: above 1 it speaks for, below 1 against."""
    force = ratio if ratio >= 1 else 1 / ratio if ratio else float("inf")
    return next((word for edge, word in EDGES if force >= edge - 1e-9), "little")


def deciding_ratio(entry: dict[str, Any]) -> tuple[str, float] | None:
    """Return the name and value of the likelihood ratio that decides an entry's strength, or None.

    For: the positive ratio. Against: the negative one, or a positive one below 1. Where only sensitivity and
    specificity are given, the ratio follows from them."""
    sens, spec = entry.get("sens"), entry.get("spec")
    positive, negative = entry.get("lr_pos"), entry.get("lr_neg")
    given = positive is not None or negative is not None
    if not given and isinstance(sens, (int, float)) and isinstance(spec, (int, float)):
        positive = sens / (1 - spec) if spec < 1 else float("inf")
        negative = (1 - sens) / spec if spec else float("inf")
    if entry.get("direction") == "for":
        return ("lr_pos", float(positive)) if isinstance(positive, (int, float)) else None
    if isinstance(negative, (int, float)):
        return "lr_neg", float(negative)
    return ("lr_pos", float(positive)) if isinstance(positive, (int, float)) else None


def check(handbook: Handbook) -> Iterator[Problem]:
    """Yield strengths, directions and intervals that do not follow from the figures."""
    for page in handbook.of_kind("finding"):
        for index, entry in enumerate(page.listed("points_to")):
            if not isinstance(entry, dict):
                continue
            for message, mend, key in _faults(entry):
                yield Problem(
                    page.file, page.line("points_to", index, key), f"{entry.get('condition')}: {message}", mend
                )


def _faults(entry: dict[str, Any]) -> Iterator[tuple[str, str, str]]:
    for name in ("lr_pos", "lr_neg"):
        limits, ratio = entry.get(f"{name}_ci"), entry.get(name)
        if not (isinstance(limits, list) and len(limits) == 2 and isinstance(ratio, (int, float))):
            continue
        if not limits[0] <= ratio <= limits[1]:
            yield (
                f"{name} {ratio} lies outside its interval {limits[0]} to {limits[1]}",
                "look the three figures up again",
                f"{name}_ci",
            )
    decided = deciding_ratio(entry)
    strength = entry.get("strength")
    if decided is None:
        if strength != "taught":
            have = "lr_pos" if entry.get("direction") == "for" else "lr_neg, or an lr_pos below 1,"
            yield (
                f'the strength is "{strength}", but no likelihood ratio is given',
                f"add {have} with its source, or write strength: taught",
                "strength",
            )
        return
    name, ratio = decided
    if ratio < 1 if entry.get("direction") == "for" else ratio > 1:
        yield (
            f"{name} {ratio:g} does not speak {entry.get('direction')} it",
            "correct direction or figure",
            "direction",
        )
    elif strength != word_for(ratio):
        yield (
            f'the strength is "{strength}", but {name} {ratio:g} makes it {word_for(ratio)}',
            f"write strength: {word_for(ratio)}",
            "strength",
        )
