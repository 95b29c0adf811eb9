"""The sheets: in form, and their words in step with their numbers."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Any

import jsonschema
import pytest

from build_tools.environment import ROOT
from calculators import bands
from tests.calculators.loaded import SHEETS

SCHEMA = json.loads((ROOT / "build_tools" / "schemas" / "sheet.json").read_text("utf-8"))
# Keys whose text is an id, a unit, a template or a place in a source, and no sentence.
NO_SENTENCE = {"text", "then", "now", "when", "intro", "message", "unknown", "near"}


def texts(value: Any, key: str = "") -> Iterator[tuple[str, str]]:
    """(key, text) of every text in a sheet but its checks."""
    if isinstance(value, dict):
        for inner_key, inner in value.items():
            if inner_key != "checks":
                yield from texts(inner, inner_key)
    elif isinstance(value, list):
        for inner in value:
            yield from texts(inner, key)
    elif isinstance(value, str):
        yield key, value


def test_schema_is_sound() -> None:
    """The schema itself follows its standard."""
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


@pytest.mark.parametrize("calculator", SHEETS)
def test_follows_the_schema(calculator: str) -> None:
    """No unknown key, none missing."""
    faults = jsonschema.Draft202012Validator(SCHEMA).iter_errors(SHEETS[calculator].data)
    assert [f"{list(fault.path)}: {fault.message}" for fault in faults] == []


@pytest.mark.parametrize("calculator", SHEETS)
def test_sentences_are_whole(calculator: str) -> None:
    """What is said to the reader starts with a capital and ends with a stop."""
    for key, text in texts(SHEETS[calculator].data):
        assert text == text.strip() and "  " not in text
        if key in NO_SENTENCE:
            assert text[-1] in ".?", text
            assert not text[0].islower(), text


@pytest.mark.parametrize("calculator", SHEETS)
def test_labels_say_the_edges(calculator: str) -> None:
    """A limit named in the label of a band is an edge of its scheme, so that words and numbers cannot part."""
    for scheme in SHEETS[calculator].data.get("schemes", []):
        if "rules" in scheme or bands.names_numbers(scheme):
            continue
        edges = {float(edge["low"]) for edge in bands.edges(scheme) if edge["low"] is not None}
        for band in scheme["bands"]:
            named = {float(number) for number in re.findall(r"\d+(?:\.\d+)?(?= mmHg| %| under| to)", band["label"])}
            assert named <= edges, band["label"]


@pytest.mark.parametrize("calculator", SHEETS)
def test_uncertainty_is_said_with_its_numbers(calculator: str) -> None:
    """An error given as numbers is said as a range, and one given in words has no braces."""
    for output in SHEETS[calculator].data["outputs"]:
        facts = output.get("uncertainty", {"text": ""})
        has_numbers = any(key in facts for key in ("relative", "below", "number", "between"))
        one = isinstance(output.get("shows"), str)
        assert ("{low}" in facts["text"] and "{high}" in facts["text"]) == (has_numbers and one), output["id"]


@pytest.mark.parametrize(("scheme", "expected"), [
    ("acc-aha-2024", ["0.00", "0.01 to 0.90", "0.91 to 0.99", "1.00 to 1.40", "1.41 or more"]),
    ("lower-ankle-limit", ["0.00", "0.01 to 0.89", "0.90 or more"]),
    ("ankle-pressure-limit", ["below 50 mmHg", "50 mmHg or more"]),
    ("between-arms", ["below 10 mmHg", "10 mmHg or more, below 15 mmHg", "15 mmHg or more"]),
])
def test_ranges_in_words(scheme: str, expected: list[str]) -> None:
    """The ranges that the page prints are those of the source."""
    data = SHEETS["ankle_brachial_index"].data
    found = next(one for one in data["schemes"] if one["id"] == scheme)
    output = next(one for one in data["outputs"] if one["id"] in found["reads"])
    assert bands.ranges(found, output) == expected


def test_range_above_an_edge() -> None:
    """A band beyond an exact edge says so."""
    data = SHEETS["central_venous_pressure"].data
    assert bands.ranges(data["schemes"][0], data["outputs"][0]) == ["up to 8.0 cmH₂O", "above 8.0 cmH₂O"]
