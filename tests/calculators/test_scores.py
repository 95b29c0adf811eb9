"""Choices, rows, points and criteria: what is not known is never counted as no."""

from __future__ import annotations

from itertools import product
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators import bands, form, scores
from tests.calculators.loaded import SHEETS, ask

SCORED = [name for name, sheet in SHEETS.items() if "items" in sheet.data]
NEWS = "early_warning_score"
VITAL = {
    "who": "adult", "saturation_scale": "scale-1", "saturation_percent": "97", "respiration_per_min": "16",
    "air_or_oxygen": "air", "systolic_mmhg": "120", "pulse_per_min": "70", "consciousness": "alert",
    "temperature_c": "36.8",
}


def band(answer: dict[str, Any]) -> dict[str, Any]:
    """The first band of the first result."""
    found: dict[str, Any] = answer["results"][0]["bands"][0]
    return found


@pytest.mark.parametrize("missing", ["consciousness", "respiration_per_min", "saturation_percent", "temperature_c"])
def test_an_unknown_sign_never_reassures(missing: str) -> None:
    """A vital sign that is not known, or left empty, leaves the response open and says what would be worst."""
    for typed in ("", "not-known"):
        answer = ask(NEWS, {**VITAL, missing: typed})
        assert band(answer)["band"] == bands.OPEN
        assert "single item" in band(answer)["then"]
        assert any("Not known, and not counted as no" in note for note in answer["notes"])


def test_who_a_score_is_not_for() -> None:
    """Whom a calculator is not for is refused at once, on the field that says so."""
    for who in ("child", "pregnant"):
        answer = ask(NEWS, {**VITAL, "who": who}, complete=False)
        assert (answer["state"], answer["results"]) == ("refused", [])
        assert [(problem["field"], problem["kind"]) for problem in answer["problems"]] == [("who", "excluded")]


def test_nothing_known_gives_no_score() -> None:
    """A scale alone is no vital sign: the score waits, and asks for a first one."""
    answer = ask(NEWS, {"who": "adult", "saturation_scale": "scale-1"})
    assert answer["state"] == "incomplete"
    assert [problem["kind"] for problem in answer["problems"]] == ["missing"]


@pytest.mark.parametrize("calculator", SCORED)
def test_not_known_is_always_offered(calculator: str) -> None:
    """Every item has the answer "not known"."""
    for entry in form.entries(SHEETS[calculator].data):
        if entry.get("item"):
            options = entry.get("choices", entry.get("answers", []))
            assert scores.NOT_KNOWN in [option["id"] for option in options]


def test_partial_answers_read_as_words() -> None:
    """The ends still possible are said in words, a point is one point, and a sum of one number is no sum."""
    answer = ask("wells_deep_vein_thrombosis", {"active_cancer": "yes", "previous_dvt": "not-known"})
    result = answer["results"][0]
    assert "Of 10 items 1 is known: the lowest still possible is −1, the highest 9." in result["sentence"]
    assert result["working"][0].endswith(": 1 point")
    assert result["working"][-2] == "Lowest still possible: 1 − 2 = −1"
    nothing = {item["id"]: "no" for item in SHEETS["perc_rule"].data["items"] if "unit" not in item}
    assert ask("perc_rule", {"judged": "low", **nothing})["results"][0]["working"][0] == "Lowest still possible: 0"


@pytest.mark.parametrize("calculator", SCORED)
def test_edition_is_shown(calculator: str) -> None:
    """Every score says whose criteria it holds, and of when."""
    assert any(character.isdigit() for character in SHEETS[calculator].data["edition"]["text"])


ITEMS = ["active_cancer", "entire_leg_swollen", "previous_dvt", "alternative_as_likely"]


@given(st.lists(st.sampled_from(["yes", "no", "not-known"]), min_size=4, max_size=4).filter(
    lambda answers: answers != ["not-known"] * 4))
def test_range_holds_every_completion(answers: list[str]) -> None:
    """The lowest and highest shown are the least and the most over every way to fill in what is not known."""
    def typed(one: tuple[str, ...]) -> dict[str, str]:
        rest = {item["id"]: "no" for item in SHEETS["wells_deep_vein_thrombosis"].data["items"]}
        return {**rest, "calf_difference_cm": "0", **dict(zip(ITEMS, one, strict=True))}

    shown = ask("wells_deep_vein_thrombosis", typed(tuple(answers)))["results"][0]["value"]
    ways = product(*[["yes", "no"] if one == "not-known" else [one] for one in answers])
    totals = {int(ask("wells_deep_vein_thrombosis", typed(way))["results"][0]["raw"]) for way in ways}
    ends = [str(end).replace("-", "−") for end in (min(totals), max(totals))]
    assert shown == (ends[0] if ends[0] == ends[1] else " to ".join(ends))


def test_a_row_begun_is_asked_for() -> None:
    """Of a row of readings beyond the needed ones only the rest is missed."""
    answers = {"who": "adult", "setting": "office", "position": "seated"}
    readings = {"right_systolic_mmhg.1": "138", "right_diastolic_mmhg.1": "80", "right_systolic_mmhg.3": "140"}
    answer = ask("blood_pressure_category", {**answers, **readings})
    assert [problem["field"] for problem in answer["problems"]] == ["right_diastolic_mmhg.3"]


@pytest.mark.parametrize(("counts", "rule"), [
    ({"major": 2, "minor": 0}, "met"), ({"major": 1, "minor": 2}, "met"), ({"major": 1, "minor": 1}, "not-met"),
    ({"major": 0, "minor": 9}, "not-met"),
])
def test_rules(counts: dict[str, int], rule: str) -> None:
    """The first rule with one way that is met holds."""
    scheme = SHEETS["framingham_heart_failure"].data["schemes"][0]
    assert bands.rule_of(scheme, counts)["id"] == rule


def test_rules_in_words() -> None:
    """The page says a rule as one would."""
    data = SHEETS["framingham_heart_failure"].data
    assert bands.ranges(data["schemes"][0], data["outputs"][0]) == ["2 major, or 1 major and 2 minor", "Otherwise"]


def test_edges_of_two_numbers_in_words() -> None:
    """An edge that either number reaches is said with both."""
    data = SHEETS["blood_pressure_category"].data
    scheme = next(one for one in data["schemes"] if one["id"] == "aha-acc-2025-office")
    output = next(one for one in data["outputs"] if one["id"] == "average")
    assert bands.ranges(scheme, output) == [
        "Below all the following", "systolic 120 mmHg or more",
        "systolic 130 mmHg or more, or diastolic 80 mmHg or more",
        "systolic 140 mmHg or more, or diastolic 90 mmHg or more",
    ]
