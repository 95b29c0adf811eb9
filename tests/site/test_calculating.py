"""The form rules in a real browser: when an answer comes, when a fault is told, and what never gets lost."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from playwright.sync_api import expect

from build_tools import proving
from build_tools.calculating import answered
from tests.site.calculators import (
    LEG,
    NECK,
    PRESSURE,
    calculator,
    engine_line,
    enter,
    expect_agreement,
    fault,
    number,
    spoken,
)
from tests.site.conftest import Opener
from tests.whole import BOOK

GOOD = {"systolic_mmhg": "120", "diastolic_mmhg": "80"}


def test_answer_comes_as_soon_as_the_entries_suffice(open_page: Opener, address: str) -> None:
    """No button is pressed; the answer is a number, a whole sentence with its unit, and its working."""
    form = calculator(open_page(address + PRESSURE))
    enter(form, {"systolic_mmhg": "120"})
    expect(number(form, "one_third")).to_have_count(0)
    enter(form, {"diastolic_mmhg": "80"})
    expect(number(form, "one_third")).to_have_text("93")
    expect(spoken(form)).to_contain_text(re.compile(r"mean arterial pressure.*93 mmHg \(12\.4 kPa\)", re.IGNORECASE))
    expect(form.locator('[data-output="one_third"] .calculator-working li').last).to_contain_text("80 + 40 ÷ 3")


def test_answer_that_was_asked_for_comes_into_view(open_page: Opener, address: str) -> None:
    """On a phone the result lies below the form."""
    form = calculator(open_page(address + PRESSURE))
    enter(form, GOOD)
    expect(number(form, "one_third")).to_have_text("93")
    form.get_by_role("button", name="Work it out").click()
    expect(number(form, "one_third")).to_be_in_viewport()
    expect(form.get_by_role("button", name="Work it out")).to_be_focused()


def test_result_region_is_there_from_the_start(open_page: Opener, address: str) -> None:
    """A screen reader hears only what comes into a region that it knows already."""
    page = open_page(address + PRESSURE, java_script_enabled=False)
    region = spoken(calculator(page))
    assert region.get_attribute("aria-atomic") == "true"
    assert region.text_content() == ""


def test_marker_stands_at_the_result(open_page: Opener, address: str) -> None:
    """The marker lies on the ruler in proportion to the value."""
    form = calculator(open_page(address + PRESSURE))
    enter(form, GOOD)
    expect(number(form, "one_third")).to_have_text("93")
    marker = form.locator('[data-output="one_third"] .ruler-marker')
    ends = {name: float(marker.get_attribute(f"data-{name}") or "nan") for name in ("low", "high", "x0", "x1")}
    share = (80 + 40 / 3 - ends["low"]) / (ends["high"] - ends["low"])
    moved = re.fullmatch(r"translate\(([\d.]+) 0\)", marker.get_attribute("transform") or "")
    assert moved and abs(float(moved.group(1)) - (ends["x0"] + share * (ends["x1"] - ends["x0"]))) < 0.01
    assert marker.get_attribute("visibility") is None


def test_ruler_shows_the_limits_that_the_result_was_held_against(open_page: Opener, address: str) -> None:
    """Limits of the waist differ between men and women: each has a ruler, and one of them is shown."""
    form = calculator(open_page(address + "calculators/hands-and-build.html"), "body_size")
    rulers = form.locator('[data-output="waist"] .calculator-ruler')
    for sex, scheme in (("woman", "waist-english-women"), ("man", "waist-english-men")):
        enter(form, {"who": "adult", "weight_kg": "70", "height_cm": "170", "waist_cm": "90", "sex": sex})
        shown = rulers.locator("visible=true")
        expect(form.locator(f'[data-scheme="{scheme}"]').first).to_be_visible()
        expect(shown).to_have_count(1)
        expect(shown).to_have_attribute("data-scheme", scheme)


def test_impossible_value_is_told_on_leaving_the_field(open_page: Opener, address: str) -> None:
    """While it is being typed nothing is said, since it may be half a number."""
    page = open_page(address + PRESSURE)
    form = calculator(page)
    field = form.locator('input[name="systolic_mmhg"]')
    field.press_sequentially("1200")
    page.wait_for_timeout(400)
    expect(fault(form, "systolic_mmhg")).to_be_hidden()
    field.press("Tab")
    expect(fault(form, "systolic_mmhg")).to_contain_text("1200")
    assert field.get_attribute("aria-invalid") == "true"
    assert (fault(form, "systolic_mmhg").get_attribute("id") or "") in (field.get_attribute("aria-describedby") or "")
    expect(field).to_have_value("1200")
    field.fill("120")
    expect(fault(form, "systolic_mmhg")).to_be_hidden()
    assert field.get_attribute("aria-invalid") is None


def test_entries_that_contradict_each_other_are_told_on_leaving(open_page: Opener, address: str) -> None:
    """A diastolic pressure above the systolic may be a swap, and says so once the field is left."""
    page = open_page(address + PRESSURE)
    form = calculator(page)
    enter(form, {"systolic_mmhg": "80", "diastolic_mmhg": "120"})
    page.wait_for_timeout(400)
    expect(fault(form, "diastolic_mmhg")).to_be_hidden()
    form.locator('input[name="diastolic_mmhg"]').press("Tab")
    expect(fault(form, "diastolic_mmhg")).to_contain_text("swapped")


def test_missing_entry_is_told_only_when_an_answer_is_asked_for(open_page: Opener, address: str) -> None:
    """The list of faults takes the focus, and each line leads to its field."""
    page = open_page(address + PRESSURE)
    form = calculator(page)
    enter(form, {"systolic_mmhg": "120"})
    form.locator('input[name="systolic_mmhg"]').press("Tab")
    page.wait_for_timeout(400)
    expect(form.locator(".calculator-fault:visible")).to_have_count(0)
    form.get_by_role("button", name="Work it out").click()
    summary = form.locator(".calculator-faults")
    expect(summary).to_be_focused()
    expect(fault(form, "diastolic_mmhg")).to_be_visible()
    words = fault(form, "diastolic_mmhg").text_content() or ""
    summary.get_by_role("link", name=words).click()
    expect(form.locator('input[name="diastolic_mmhg"]')).to_be_focused()
    expect(form.locator('input[name="systolic_mmhg"]')).to_have_value("120")


def test_unusual_value_gives_the_result_with_a_caution(open_page: Opener, address: str) -> None:
    """Rare is not wrong: the answer stands, and the caution beside it is read out too."""
    form = calculator(open_page(address + PRESSURE))
    enter(form, {"systolic_mmhg": "260", "diastolic_mmhg": "80"})
    expect(number(form, "one_third")).to_have_text("140")
    expect(form.locator(".calculator-cautions")).to_contain_text("unusual")
    expect(spoken(form)).to_contain_text("unusual")


def test_edit_marks_the_old_result_as_old_at_once(open_page: Opener, address: str) -> None:
    """The mark comes with the key stroke, before any engine has answered."""
    page = open_page(address + PRESSURE)
    form = calculator(page)
    enter(form, GOOD)
    expect(number(form, "one_third")).to_have_text("93")
    at_once = page.evaluate(
        """() => {
          const field = document.querySelector('input[name="diastolic_mmhg"]');
          field.value = "";
          field.dispatchEvent(new Event("input", { bubbles: true }));
          return field.closest("[data-calculator]").querySelector(".calculator-result").classList.contains("is-old");
        }"""
    )
    assert at_once
    expect(form.locator(".calculator-old")).to_be_visible()
    expect(spoken(form)).to_contain_text("old")
    enter(form, {"diastolic_mmhg": "70"})
    expect(number(form, "one_third")).to_have_text("87")
    expect(form.locator(".calculator-old")).to_be_hidden()


def test_typed_number_comes_back_when_the_answer_is_taken_back(open_page: Opener, address: str) -> None:
    """An answer such as no flow stands in for the number without deleting it."""
    form = calculator(open_page(address + LEG), "ankle_brachial_index")
    field = form.locator('input[name="ankle_mmhg.right.1"]')
    other = form.locator('[data-field="ankle_mmhg.right.1"] select')
    field.fill("92")
    other.select_option("no-flow")
    expect(field).to_have_value("92")
    expect(field).not_to_be_editable()
    other.select_option("")
    expect(field).to_be_editable()
    expect(field).to_have_value("92")


def test_unit_is_chosen_once_for_all_pressures(open_page: Opener, address: str) -> None:
    """Numbers in kPa give the same mean; the labels name the chosen unit."""
    form = calculator(open_page(address + PRESSURE))
    form.get_by_label("kPa").check()
    enter(form, {"systolic_mmhg": "15.9", "diastolic_mmhg": "10,7"})
    expect(number(form, "one_third")).to_have_text("93")
    expect(form.locator('[data-field="systolic_mmhg"] label').first).to_contain_text("kPa")


def test_sign_can_be_changed_without_a_minus_key(open_page: Opener, address: str) -> None:
    """The number keyboards of phones have no minus sign."""
    form = calculator(open_page(address + NECK), "central_venous_pressure")
    button = form.get_by_role("button", name=re.compile("Change the sign")).first
    field = button.locator("xpath=..").locator("input")
    field.fill("2")
    button.click()
    expect(field).to_have_value("−2")
    button.click()
    expect(field).to_have_value("2")


def test_clear_empties_form_and_result(open_page: Opener, address: str) -> None:
    """For the next patient: nothing of the last one stays."""
    form = calculator(open_page(address + PRESSURE))
    enter(form, GOOD)
    expect(number(form, "one_third")).to_have_text("93")
    form.get_by_role("button", name="Clear").click()
    expect(number(form, "one_third")).to_be_hidden()
    expect(form.locator('input[name="systolic_mmhg"]')).to_have_value("")
    expect(spoken(form)).to_have_text("")


@pytest.mark.slow
@pytest.mark.parametrize("name", sorted(BOOK.sheets))
def test_page_and_command_line_say_the_same(name: str, open_page: Opener, address: str) -> None:
    """The example of each sheet gives the same text on both, from both engines of the page."""
    sheet = BOOK.sheets[name]
    check = next(check for check in sheet.data["checks"] if check.get("example"))
    typed = proving.typed(sheet.data, check["given"])
    told = answered(BOOK, name, typed)
    assert told["state"] == "answer", told["problems"]
    [where] = {page.id for page in BOOK.pages_of_calculator(name)}
    page = open_page(f"{address}{where}.html", permissions=["clipboard-read", "clipboard-write"])
    form = calculator(page, name)
    enter(form, typed)
    form.get_by_role("button", name="Copy as text").click()
    expect(form.locator(".calculator-copied")).to_have_text("Copied.")
    assert page.evaluate("() => navigator.clipboard.readText()").strip() == told["text"].strip()
    expect_agreement(form)


def test_text_can_be_copied_by_hand_where_the_page_may_not(open_page: Opener, address: str) -> None:
    """On plain http a page has no clipboard: the text is shown and selected instead."""
    page = open_page(
        address + PRESSURE,
        script="Object.defineProperty(navigator, 'clipboard', {value: undefined}); document.execCommand = () => false;",
    )
    form = calculator(page)
    enter(form, GOOD)
    form.get_by_role("button", name="Copy as text").click()
    expect(form.locator(".calculator-copy textarea")).to_have_value(re.compile("93 mmHg"))
    expect(form.locator(".calculator-copied")).to_contain_text("copy it from here")


@pytest.mark.slow
def test_second_engine_stays_away_from_a_reader_who_saves_data(open_page: Opener, address: str) -> None:
    """The first engine answers alone, and the line says that nothing checked it."""
    page = open_page(
        address + PRESSURE,
        script="Object.defineProperty(navigator, 'connection', {value: {saveData: true}});",
    )
    form = calculator(page)
    enter(form, GOOD)
    expect(engine_line(form)).to_contain_text("to save data")
    page.wait_for_timeout(3500)
    assert len(page.workers) == 1


def test_workers_end_when_the_page_is_left(open_page: Opener, address: str) -> None:
    """An engine takes tens of megabytes, which a phone wants back."""
    page = open_page(address + PRESSURE)
    form = calculator(page)
    enter(form, GOOD)
    expect_agreement(form)
    assert len(page.workers) == 2
    page.evaluate("() => window.dispatchEvent(new PageTransitionEvent('pagehide'))")
    page.wait_for_timeout(200)
    assert len(page.workers) == 0


def test_page_calculates_again_on_the_way_back(open_page: Opener, address: str) -> None:
    """What was typed is still there, and so is an engine."""
    page = open_page(address + PRESSURE)
    form = calculator(page)
    enter(form, GOOD)
    expect(number(form, "one_third")).to_have_text("93")
    page.goto(address)
    page.go_back()
    enter(form, {"systolic_mmhg": "150", "diastolic_mmhg": "90"})
    expect(number(form, "one_third")).to_have_text("110")


def test_sheets_travel_without_what_only_a_build_reads(open_page: Opener, address: str) -> None:
    """The page names the files of its own calculators, and no others."""
    page = open_page(address + PRESSURE)
    files = json.loads(page.locator("#engine-files").text_content() or "")
    first, second = ([pack["name"].split(".")[0] for pack in engine["packs"]] for engine in files["engines"])
    assert second == ["core", *sorted(BOOK.pages["calculators/pressure"].listed("calculators"))]
    assert first == [f"{name}-compiled" for name in second]


def test_page_without_calculators_loads_no_engine(open_page: Opener, address: str) -> None:
    """Nothing is fetched that is not used."""
    page = open_page(address + "findings/index.html")
    assert page.locator("#engine-files").count() == 0
    assert not page.workers


def test_example_is_told_with_its_entries_and_its_source(open_page: Opener, address: str, built_site: Path) -> None:
    """The worked example is made by the calculator itself, so its figures are those of the check."""
    page = open_page(address + PRESSURE)
    example = calculator(page).locator("details", has_text="Worked example")
    example.locator("summary").click()
    expect(example).to_contain_text("Figures of the example")
    expect(example.locator(".ruler-marker")).to_be_attached()
