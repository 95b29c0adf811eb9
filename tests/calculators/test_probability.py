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
FINDINGS: list[Any] = formula.FINDINGS
QUESTIONS: list[Any] = formula.QUESTIONS
# Where each finding's ratio stands: the page, its condition, its source.
PAGES = {
    "pulses-abnormal": ("absent-foot-pulse", "peripheral-artery-disease", "khan2006"),
    "pulses-normal": ("absent-foot-pulse", "peripheral-artery-disease", "khan2006"),
    "pulses-abnormal-well": ("absent-foot-pulse", "peripheral-artery-disease", "khan2006"),
    "bruit": ("femoral-bruit", "peripheral-artery-disease", "khan2006"),
    "no-bruit": ("femoral-bruit", "peripheral-artery-disease", "khan2006"),
    "bruit-well": ("femoral-bruit", "peripheral-artery-disease", "khan2006"),
    "cool-skin": ("cool-leg", "peripheral-artery-disease", "khan2006"),
    "wounds": ("ischaemic-tissue-loss", "peripheral-artery-disease", "khan2006"),
    "neck-veins-raised": ("raised-jugular-venous-pressure", "cardiac-tamponade", "gibbs2000"),
    "neck-veins-not-raised": ("raised-jugular-venous-pressure", "cardiac-tamponade", "gibbs2000"),
    "fast-pulse": ("tachycardia", "cardiac-tamponade", "gibbs2000"),
    "no-fast-pulse": ("tachycardia", "cardiac-tamponade", "gibbs2000"),
    "low-systolic": ("low-blood-pressure", "cardiac-tamponade", "gibbs2000"),
    "paradoxus": ("pulsus-paradoxus", "cardiac-tamponade", "roy2007"),
    "no-paradoxus": ("pulsus-paradoxus", "cardiac-tamponade", "roy2007"),
    "irregular": ("irregularly-irregular-pulse", "atrial-fibrillation", "taggar2016"),
    "regular": ("irregularly-irregular-pulse", "atrial-fibrillation", "taggar2016"),
    "kussmaul": ("kussmaul-sign", "right-ventricular-infarction", "dube2021"),
    "neck-veins-infarction": ("raised-jugular-venous-pressure", "right-ventricular-infarction", "sewdarsen1988"),
    "neck-veins-flat-infarction": ("raised-jugular-venous-pressure", "right-ventricular-infarction", "sewdarsen1988"),
    "neck-veins-pulmonary": ("raised-jugular-venous-pressure", "pulmonary-hypertension", "braganza2019"),
    "neck-veins-flat-pulmonary": ("raised-jugular-venous-pressure", "pulmonary-hypertension", "braganza2019"),
    "aorta-wide": ("expansile-aorta", "abdominal-aortic-aneurysm", "lederle1999"),
    "aorta-not-wide": ("expansile-aorta", "abdominal-aortic-aneurysm", "lederle1999"),
    "slow-carotid": ("slow-rising-pulse", "aortic-stenosis", "shellenberger2023"),
    "neck-test-positive": ("positive-abdominojugular-test", "heart-failure", "butman1993"),
    "neck-test-negative": ("positive-abdominojugular-test", "heart-failure", "butman1993"),
    "pulse-deficit": ("pulse-deficit-between-limbs", "aortic-dissection", "klompas2002"),
    "narrow-pressure": ("narrow-pulse-pressure", "cardiogenic-shock", "stevenson1989"),
    "wide-pressure": ("narrow-pulse-pressure", "cardiogenic-shock", "stevenson1989"),
}


@pytest.mark.parametrize("row", FINDINGS, ids=lambda row: row[0])
def test_ratio_is_that_of_the_page(row: list[Any]) -> None:
    """A page names the ratio and its interval, by the same source, and nobody only remembered it."""
    page, condition, source = PAGES[row[0]]
    front, _, _ = load_front_matter(ROOT / "content" / "findings" / f"{page}.md")
    found = [
        [entry.get(f"lr_{end}"), *(entry.get(f"lr_{end}_ci") or [None, None])]
        for entry in front.data["points_to"] for end in ("pos", "neg")
        if (entry["condition"], entry.get("source")) == (condition, source) and entry["checked"] != "memory"
    ]
    assert row[3:] in found


def test_no_ratio_is_nought_or_endless() -> None:
    """A zero cell would give 0 or infinity: such a finding has no place here."""
    for row in FINDINGS:
        assert all(number is None or 0 < number < 1000 for number in row[3:])


def test_form_and_table_have_the_same_findings() -> None:
    """Each finding can be chosen, as the first and as the second, and none that is not in the table."""
    names = [row[0] for row in FINDINGS]
    assert sorted(names) == sorted(PAGES)
    for entry in SHEETS[NAME].data["inputs"][1:]:
        assert [option["id"] for option in entry["choices"]] == names
    assert [question[0] for question in QUESTIONS] == list(dict.fromkeys(row[1] for row in FINDINGS))


def test_only_other_mechanisms_in_the_same_people_are_chained() -> None:
    """Refused unless the target and the people are the same and the mechanism is another, in either order."""
    chained = 0
    for one, other in permutations(FINDINGS, 2):
        together = one[1] == other[1] and one[2] != other[2]
        answer = ask(NAME, {"before_percent": "20", "first": one[0], "second": other[0]})
        assert answer["state"] == ("answer" if together else "refused")
        chained += together
    assert chained


# Printed pairs of pewsner2007, abstract, with the ratio that links them.
@pytest.mark.parametrize(("before", "ratio", "printed"), [(33, 0.91, 31), (65, 0.92, 63)])
def test_published_pairs(before: int, ratio: float, printed: int) -> None:
    """A negative ECG and hypertrophy: 33 to 31 %, 65 to 63 %."""
    assert formula.percent_after(before, ratio) == pytest.approx(printed, abs=0.5)


@pytest.mark.parametrize("finding", [row[0] for row in FINDINGS])
@pytest.mark.parametrize("before", ["0.1", "99.9"])
def test_never_certain(finding: str, before: str) -> None:
    """Whatever the start, the result is neither 0 nor 100 %."""
    result = ask(NAME, {"before_percent": before, "first": finding})["results"][0]
    assert 0.1 <= result["raw"] <= 99.9
    assert result["value"] not in ("0.0", "100.0")
