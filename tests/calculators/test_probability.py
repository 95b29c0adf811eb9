"""The probability after findings: its ratios are those of the findings' pages, and it never says certain."""

from __future__ import annotations

from itertools import permutations
from typing import Any

import pytest

from build_tools.environment import ROOT
from build_tools.loading import load_front_matter
from calculators.probability_after_findings import formula
from tests.calculators.loaded import SHEETS, ask

NAME = "probability_after_findings"
CHOICES: list[dict[str, Any]] = SHEETS[NAME].data["inputs"][1]["choices"]


def on_pages() -> list[tuple[str, float]]:
    """(page, ratio) of every likelihood ratio that the pages print and somebody read, each once."""
    found = set()
    for path in sorted((ROOT / "content" / "findings").glob("*.md")):
        front, _, _ = load_front_matter(path)
        for entry in front.data.get("points_to", []):
            for key in ("lr_pos", "lr_neg"):
                if key in entry and entry["checked"] != "memory":
                    ends = tuple(entry.get(f"{key}_ci", ()))
                    found.add((path.stem, entry["condition"], entry["source"], key, float(entry[key]), ends))
    return sorted((row[0], row[4]) for row in found)


def test_every_ratio_of_the_pages_can_be_chosen() -> None:
    """Each once, as either finding, and no other; none is 0 or without end."""
    assert sorted((one["data"]["finding"], one["data"]["ratio"]) for one in CHOICES) == on_pages()
    assert len(CHOICES) > 100
    assert len({one["id"] for one in CHOICES}) == len(CHOICES)
    assert len({(one["group"], one["label"]) for one in CHOICES}) == len(CHOICES)
    assert SHEETS[NAME].data["inputs"][2]["choices"] == CHOICES
    assert all(0 < one["data"]["ratio"] < 1000 for one in CHOICES)


def test_intervals_hold_their_ratio_and_were_read() -> None:
    """A remembered interval is left out, so that a result does not rest on it."""
    for one in CHOICES:
        data = one["data"]
        assert (data["low"] is None) == (data["high"] is None)
        assert data["low"] is None or data["low"] <= data["ratio"] <= data["high"]
    by_id = {one["id"]: one["data"] for one in CHOICES}
    assert by_id["pulse-deficit-between-limbs-aortic-dissection-found"]["low"] is None


def test_each_says_what_it_was_studied_for_in_whom_and_by_whom() -> None:
    for one in CHOICES:
        data = one["data"]
        assert data["target"] in one["label"] and data["population"] in one["label"]
        assert data["reference"] and "[" not in data["reference"] + data["note"]


def test_only_other_mechanisms_in_the_same_people_are_chained() -> None:
    """Refused unless the target and the people are the same and the mechanism is another, in either order."""
    chained = set()
    for one, other in permutations(CHOICES, 2):
        first, second = one["data"], other["data"]
        together = first["study"] == second["study"] and first["mechanism"] != second["mechanism"]
        assert (formula.refusal(first, second) == "") == (together and first["finding"] != second["finding"])
        if together:
            chained.add(first["study"])
    assert chained == {"suspected-dissection"}


FOOT = "absent-foot-pulse-peripheral-artery-disease-found"
BRUIT = "femoral-bruit-peripheral-artery-disease-found"
FAST = "tachycardia-cardiac-tamponade-found"


@pytest.mark.parametrize(("first", "second", "says"), [
    (FOOT, BRUIT, "share a mechanism"),
    (FOOT, f"{BRUIT}-2", "different people cannot be multiplied"),
    (FAST, FAST.replace("-found", "-not-found"), "chosen twice"),
])
def test_a_refusal_gives_its_reason(first: str, second: str, says: str) -> None:
    (problem,) = ask(NAME, {"before_percent": "20", "first": first, "second": second})["problems"]
    assert problem["kind"] == "excluded" and says in problem["message"]


# Printed pairs of pewsner2007, abstract, with the ratio that links them.
@pytest.mark.parametrize(("before", "ratio", "printed"), [(33, 0.91, 31), (65, 0.92, 63)])
def test_published_pairs(before: int, ratio: float, printed: int) -> None:
    """A negative ECG and hypertrophy: 33 to 31 %, 65 to 63 %."""
    assert formula.percent_after(before, ratio) == pytest.approx(printed, abs=0.5)


@pytest.mark.parametrize("before", ["0.1", "99.9"])
def test_never_certain(before: str) -> None:
    """Whatever the start and the finding, the result and its interval are neither 0 nor 100 %."""
    for one in CHOICES:
        result = ask(NAME, {"before_percent": before, "first": one["id"]})["results"][0]
        assert 0.1 <= result["raw"] <= 99.9
        assert result["value"] not in ("0.0", "100.0")
        assert " 0.0 " not in result["uncertainty"] and "100.0" not in result["uncertainty"]


def test_a_long_list_is_not_read_out() -> None:
    """A wrong answer is told with the number of those there are, not with all of them."""
    (problem,) = ask(NAME, {"before_percent": "20", "first": "no-such"})["problems"]
    assert problem["message"].endswith(f"Choose one of the {len(CHOICES)} in the list.")
