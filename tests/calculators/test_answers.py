"""How the door answers: states, problems, cautions, words."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from build_tools.proving import answered
from calculators import door, form
from tests.calculators.grid import REQUESTS
from tests.calculators.loaded import SHEETS, ask, sheet_text

MEAN = "mean_arterial_pressure"
ANKLE = "ankle_brachial_index"
NECK = "central_venous_pressure"
RIGHT_LEG = {"ankle_mmhg.right.1": "92", "ankle_mmhg.right.2": "84"}
NO_LEFT_LEG = {"ankle_mmhg.left.1": "not-measured", "ankle_mmhg.left.2": "not-measured"}
ARMS = {"arm_mmhg.1": "120", "arm_mmhg.2": "112"}


@pytest.fixture(autouse=True, scope="module")
def plain_sheets() -> None:
    """Load the sheets anew: a test of the pages may have loaded them with their references in words."""
    for calculator, sheet in SHEETS.items():
        door.load(sheet_text(calculator, sheet.data))


def kinds(answer: dict[str, Any]) -> list[tuple[str | None, str]]:
    """The problems of an answer as (field, kind)."""
    return [(problem["field"], problem["kind"]) for problem in answer["problems"]]


def result(answer: dict[str, Any], output: str, side: str | None = None) -> dict[str, Any]:
    """One result of an answer."""
    return next(one for one in answer["results"] if (one["output"], one["side"]) == (output, side))


def bands(answer: dict[str, Any], output: str, side: str | None = None) -> list[str]:
    """The bands of one result."""
    return [band["band"] for band in result(answer, output, side)["bands"]]


def test_answers_as_soon_as_inputs_suffice() -> None:
    """Without a press of the button, two pressures answer and one waits in silence."""
    waiting = ask(MEAN, {"systolic_mmhg": "120"}, complete=False)
    assert (waiting["state"], waiting["problems"]) == ("incomplete", [])
    assert ask(MEAN, {"systolic_mmhg": "120", "diastolic_mmhg": "80"}, complete=False)["state"] == "answer"


def test_missing_is_said_when_asked() -> None:
    """With the button pressed, each empty field is named, with the answers it also takes."""
    answer = ask(MEAN, {})
    assert kinds(answer) == [("systolic_mmhg", "missing"), ("diastolic_mmhg", "missing")]
    leg = ask(ANKLE, {**ARMS, "ankle_mmhg.right.1": "90"})
    assert leg["state"] == "incomplete"
    assert kinds(leg) == [("ankle_mmhg.right.2", "missing")]
    assert "“Not measured, or no limb”" in leg["problems"][0]["message"]


def test_impossible_is_said_at_once() -> None:
    """An impossible value is a problem while others are still missing."""
    answer = ask(MEAN, {"systolic_mmhg": "900"}, complete=False)
    assert answer["state"] == "refused"
    assert kinds(answer) == [("systolic_mmhg", "impossible")]


@pytest.mark.parametrize(("typed", "says"), [
    ({"systolic_mmhg": "80", "diastolic_mmhg": "120"}, "may be swapped"),
    ({"systolic_mmhg": "16", "diastolic_mmhg": "10.7"}, "choose that unit"),
    ({"systolic_mmhg": "1,200", "diastolic_mmhg": "80"}, "two ways"),
    ({"systolic_mmhg": "120/80", "diastolic_mmhg": "80"}, "two numbers"),
    ({"systolic_mmhg": "120 psi", "diastolic_mmhg": "80"}, "mmHg or kPa"),
    ({"systolic_mmhg": "99999999999999999999", "diastolic_mmhg": "80"}, "more digits"),
    ({"systolic_mmhg": "1e2", "diastolic_mmhg": "80"}, "not a unit"),
    ({"systolic_mmhg": "-120", "diastolic_mmhg": "80"}, "−120 mmHg cannot be right"),
    ({"systole": "120"}, "There is no field systole"),
])
def test_refusals_advise(typed: dict[str, str], says: str) -> None:
    """A refusal says what was found and how to mend it."""
    answer = ask(MEAN, typed)
    assert answer["state"] == "refused"
    assert any(says in problem["message"] for problem in answer["problems"])


def test_wrong_unit_choice_is_guessed_back() -> None:
    """120 with kPa chosen is 900 mmHg: the message offers mmHg."""
    answer = ask(MEAN, {"systolic_mmhg": "120", "diastolic_mmhg": "80"}, units={"systolic_mmhg": "kPa"})
    assert "If it was measured in mmHg" in answer["problems"][0]["message"]
    assert kinds(ask(MEAN, {"systolic_mmhg": "120"}, units={"systolic_mmhg": "m"})) == [("systolic_mmhg", "unreadable")]


def test_number_sent_raw_is_refused() -> None:
    """Numbers cross the door as text alone."""
    raw: Any = {"systolic_mmhg": 120, "diastolic_mmhg": "80"}
    assert kinds(ask(MEAN, raw)) == [("systolic_mmhg", "unreadable")]


def test_unusual_is_a_caution_not_an_error() -> None:
    """A rare value gives the result, with a request to check it."""
    answer = ask(MEAN, {"systolic_mmhg": "62", "diastolic_mmhg": "38"})
    assert answer["state"] == "answer"
    assert [caution["field"] for caution in answer["cautions"]] == ["systolic_mmhg", "diastolic_mmhg"]
    assert "unusual (mostly 80 to 220 mmHg)" in answer["cautions"][0]["message"]


def test_optional_input_is_offered() -> None:
    """Without the heart rate a note says what it would add."""
    answer = ask(MEAN, {"systolic_mmhg": "120", "diastolic_mmhg": "80"})
    assert [one["output"] for one in answer["results"]] == ["one_third", "two_fifths"]
    assert "Add heart rate to see also: mean corrected for heart rate." in answer["notes"]


def test_no_normal_range_is_said() -> None:
    """The mean arterial pressure has no normal range; targets carry the name of their guideline."""
    answer = ask(MEAN, {"systolic_mmhg": "120", "diastolic_mmhg": "80"})
    assert any("gives a normal range" in note for note in answer["notes"])
    for band in result(answer, "one_third")["bands"]:
        assert "guideline" in band["scheme"]
        assert "normal" not in band["label"].lower()


def test_band_by_exact_value_is_explained() -> None:
    """64.67 shows as 65 and lies below the target: the result says so."""
    answer = ask(MEAN, {"systolic_mmhg": "92", "diastolic_mmhg": "51"})
    near = result(answer, "one_third")["near"]
    assert near[0] == "Before rounding the result is 64.67 mmHg; below the limit."
    assert "less than 1 mmHg below the limit of 65 mmHg" in near[1]


def test_one_leg_is_enough() -> None:
    """A leg left empty is noted, a leg without limb is noted in one line, and neither is an error."""
    alone = ask(ANKLE, {**RIGHT_LEG, **ARMS})
    assert alone["state"] == "answer"
    assert "Left leg: nothing entered, so there is no result for it." in alone["notes"]
    amputee = ask(ANKLE, {**RIGHT_LEG, **NO_LEFT_LEG, **ARMS})
    assert "Left leg: not measured, so nothing is known of it." in amputee["notes"]
    assert {one["side"] for one in amputee["results"]} == {"right", None}


def test_leg_begun_waits_without_hiding_the_other() -> None:
    """While the second leg is being entered, the first is answered."""
    typed = {**RIGHT_LEG, **ARMS, "ankle_mmhg.left.1": "100"}
    answer = ask(ANKLE, typed, complete=False)
    assert answer["state"] == "answer"
    assert "Left leg: not complete yet." in answer["notes"]
    assert ask(ANKLE, typed)["state"] == "incomplete"


def test_no_flow_beside_an_unmeasured_artery_is_not_zero() -> None:
    """Not enough is known: there is no index of 0.00 and no band."""
    typed = {"ankle_mmhg.right.1": "no-flow", "ankle_mmhg.right.2": "not-measured", **NO_LEFT_LEG, **ARMS}
    found = result(ask(ANKLE, typed), "higher_ankle", "right")
    assert (found["value"], found["raw"], found["bands"]) == ("", None, [])
    assert "not enough is known" in found["sentence"]


def test_no_flow_is_urgent() -> None:
    """No flow in both arteries says what to do now, first."""
    typed = {"ankle_mmhg.right.1": "no-flow", "ankle_mmhg.right.2": "no-flow", **NO_LEFT_LEG, **ARMS}
    answer = ask(ANKLE, typed)
    found = result(answer, "higher_ankle", "right")
    assert found["value"] == "0.00"
    assert found["bands"][0]["urgent"] is True
    assert "get help now" in found["bands"][0]["now"]
    assert found["uncertainty"] == ""
    assert bands(answer, "ankle_pressure", "right") == ["low"]


def test_zero_is_not_no_flow() -> None:
    """A typed 0 is refused and the answer "no flow" is offered."""
    answer = ask(ANKLE, {"ankle_mmhg.right.1": "0", "ankle_mmhg.right.2": "90", **ARMS})
    assert kinds(answer) == [("ankle_mmhg.right.1", "impossible")]
    assert "“No flow heard”" in answer["problems"][0]["message"]


def test_one_artery_alone_is_cautioned() -> None:
    """An index from one artery may be too low, and says so."""
    typed = {"ankle_mmhg.right.1": "90", "ankle_mmhg.right.2": "not-measured", **NO_LEFT_LEG, **ARMS}
    answer = ask(ANKLE, typed)
    assert any("Only one ankle artery" in caution["message"] or "only one ankle artery" in caution["message"]
               for caution in answer["cautions"])
    assert "not known, because one was not measured" not in result(answer, "arm_difference")["sentence"]


def test_arms_that_differ_are_flagged() -> None:
    """From 10 mmHg on the difference has a band of its own; the index uses the higher arm."""
    answer = ask(ANKLE, {**RIGHT_LEG, **NO_LEFT_LEG, "arm_mmhg.1": "120", "arm_mmhg.2": "105"})
    assert bands(answer, "arm_difference") == ["from-15"]
    assert result(answer, "higher_ankle", "right")["working"][1] == "Higher arm pressure: 120 mmHg"


def test_repeatability_is_shown_near_an_edge() -> None:
    """An index within the published error of a limit says so; one far from all limits does not."""
    near = ask(ANKLE, {"ankle_mmhg.right.1": "110", "ankle_mmhg.right.2": "110", **NO_LEFT_LEG, **ARMS})
    lines = result(near, "higher_ankle", "right")["near"]
    assert any("0.02 above the limit of 0.90" in line for line in lines)
    far = ask(ANKLE, {"ankle_mmhg.right.1": "60", "ankle_mmhg.right.2": "60", **NO_LEFT_LEG, **ARMS})
    assert result(far, "higher_ankle", "right")["near"] == []


def test_error_of_our_own_is_not_called_published() -> None:
    """A limit within an error that we reckoned ourselves is near by that error, whoever named it."""
    answer = ask("corrected_qt", {"qt_ms": "450", "heart_rate_per_min": "60", "sex": "man", "steady": "steady"})
    (line, *_) = result(answer, "bazett")["near"]
    assert "within the error named below" in line and "published" not in answer["text"]


def test_what_must_not_wait_heads_the_copied_text() -> None:
    """Boxes that tell to stop or to get help come before anything else, with their source; the milder ones do not."""
    for name, sheet in SHEETS.items():
        example = next(check for check in sheet.data["checks"] if check.get("example"))
        door.load(sheet_text(name, sheet.data))
        answer = answered(name, sheet.data, example)
        text = answer["text"]
        for caution in sheet.data.get("cautions", []):
            assert (caution["text"] in text) == (caution["grade"] != "take-care")
            if caution["grade"] != "take-care":
                assert text.index(caution["text"]) < text.index(answer["results"][0]["sentence"])


def test_what_is_counted_is_whole() -> None:
    """Half a patient is refused on the field that has it, with what to write instead."""
    table = {"true_positive": "3.5", "false_positive": "2", "false_negative": "4", "true_negative": "9"}
    (problem,) = ask("two_by_two_accuracy", table)["problems"]
    assert (problem["field"], problem["kind"]) == ("true_positive", "impossible")
    assert problem["message"].endswith("it is counted. Write a whole number.")


def test_neck_column_that_cannot_be_seen() -> None:
    """It is an answer with advice, and never "not raised"."""
    answer = ask(NECK, {"height_cm": "not-seen", "elevation_degrees": "45"})
    assert bands(answer, "customary") == ["not-seen"]
    assert "Do not write it down as normal" in result(answer, "customary")["bands"][0]["then"]
    assert "carries no band" in " ".join(answer["notes"])


def test_only_the_height_says_raised() -> None:
    """The estimate from computed tomography carries no band: a healthy height at 45° comes out at 11 cmH2O."""
    answer = ask(NECK, {"height_cm": "1.35", "elevation_degrees": "45"})
    assert bands(answer, "customary") == ["not-raised"]
    assert result(answer, "computed_tomography")["bands"] == []
    assert result(answer, "computed_tomography")["value"] in {"11.0", "11.1"}
    assert bands(ask(NECK, {"height_cm": "3.1", "elevation_degrees": "45"}), "customary") == ["raised"]


def test_copied_text_carries_everything() -> None:
    """Inputs with units, result, working, band, source, cautions and version stand in the text."""
    typed = {"systolic_mmhg": "92 mmHg", "diastolic_mmhg": "51"}
    text = ask(MEAN, typed, version="1.2.3")["text"]
    for part in ("Mean arterial pressure\n", "Systolic pressure: 92 mmHg\n", "Diastolic pressure: 51 mmHg",
                 "is 65 mmHg (8.6 kPa).", "Working: Pulse pressure: 92 − 51 = 41 mmHg; Mean: 51 + 41 ÷ 3",
                 "Below 65 mmHg", "Source: mcgee2018, chapter 17", "[grillo2020, abstract]",
                 "common practice, no source"):
        assert part in text
    assert text.endswith("Pulse & Ruler 1.2.3")


def test_references_are_words_where_the_sheet_has_them() -> None:
    """With `citations` in the sheet the text names authors instead of keys."""
    data = {**SHEETS[MEAN].data, "id": "pulse_pressure", "citations": {"mcgee2018": "McGee 2018"}}
    door.load(json.dumps({**data, "id": MEAN}))
    try:
        assert "Source: McGee 2018, chapter 17" in ask(MEAN, {"systolic_mmhg": "120", "diastolic_mmhg": "80"})["text"]
    finally:
        door.load(json.dumps({**SHEETS[MEAN].data, "id": MEAN}))


def test_unknown_calculator() -> None:
    """A name that is not there is a refusal, not a crash."""
    assert ask("no_such", {})["state"] == "refused"


@pytest.mark.parametrize("request_", REQUESTS[::7], ids=lambda request: request["calculator"])
def test_every_answer_is_whole(request_: dict[str, Any]) -> None:
    """Whatever is asked: sentences end, a refusal has problems, an answer has text, a band has a source."""
    answer = json.loads(door.answer(json.dumps(request_)))
    assert (answer["state"] == "answer") == (answer["text"] != "") == (answer["results"] != [])
    assert answer["state"] != "refused" or answer["problems"]
    said = [*(problem["message"] for problem in answer["problems"]), *answer["notes"],
            *(caution["message"] for caution in answer["cautions"]),
            *(one["sentence"] for one in answer["results"]),
            *(line for one in answer["results"] for line in one["near"])]
    for sentence in said:
        assert sentence[-1] in ".?", sentence
        assert "{" not in sentence and "  " not in sentence
    for one in answer["results"]:
        assert one["source"]
        assert all(band["source"] for band in one["bands"])


@pytest.mark.parametrize("calculator", SHEETS)
@given(data=st.data())
@settings(max_examples=150, deadline=None)
def test_never_raises(calculator: str, data: st.DataObject) -> None:
    """Any text in any field gets an answer."""
    fields = [field["field"] for field in form.fields(SHEETS[calculator].data)]
    numbers = st.integers(-50, 400).map(str) | st.decimals(0, 350, places=2).map(str)
    options = st.sampled_from(["not-measured", "no-flow", "not-compressible", "not-seen", ""])
    typed = {name: data.draw(numbers | options | st.text(max_size=12)) for name in fields}
    answer = ask(calculator, typed)
    assert answer["state"] in {"answer", "incomplete", "refused"}
