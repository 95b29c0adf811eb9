"""Links that carry entries: they fill in the right form, name their format, and can do nothing else."""

from __future__ import annotations

import re
from urllib.parse import urlencode

import pytest
from playwright.sync_api import expect

from tests.site.calculators import LEG, PRESSURE, calculator, enter, fault, number, spoken
from tests.site.conftest import Opener


def fragment(sum_: str, **parts: str) -> str:
    return "#" + urlencode({"sum": sum_, "format": "1", **parts})


def test_link_fills_in_the_form_and_is_answered(open_page: Opener, address: str) -> None:
    """Entries and units come from the part of the address that no server sees."""
    parts = {"systolic_mmhg": "16", "diastolic_mmhg": "10,5", "unit.systolic_mmhg": "kPa"}
    form = calculator(open_page(address + PRESSURE + fragment("mean_arterial_pressure", **parts)))
    expect(number(form, "one_third")).to_have_text("93")
    expect(form.locator('input[name="diastolic_mmhg"]')).to_have_value("10,5")


def test_copied_link_leads_back_to_the_same_answer(open_page: Opener, address: str) -> None:
    """A choice in place of a number travels too."""
    page = open_page(address + LEG)
    form = calculator(page, "ankle_brachial_index")
    enter(form, {"ankle_mmhg.right.1": "92", "ankle_mmhg.right.2": "no-flow", "arm_mmhg.1": "120", "arm_mmhg.2": "124"})
    expect(number(form, "higher_ankle", "right")).to_have_text("0.74")
    kept = "{value: {writeText: async (text) => { window.kept = text; }}}"
    page.evaluate(f"Object.defineProperty(navigator, 'clipboard', {kept})")
    form.get_by_role("button", name="Copy a link").click()
    link = page.evaluate("window.kept")
    assert re.search(r"#sum=ankle_brachial_index&format=1&", link)
    again = calculator(open_page(link), "ankle_brachial_index")
    expect(number(again, "higher_ankle", "right")).to_have_text("0.74")
    expect(again.locator('[data-field="ankle_mmhg.right.2"] select')).to_have_value("no-flow")


def test_link_of_another_format_is_not_guessed_at(open_page: Opener, address: str) -> None:
    """It says so, and leaves the form empty."""
    page = open_page(address + PRESSURE + "#sum=mean_arterial_pressure&format=2&systolic_mmhg=120")
    form = calculator(page)
    expect(form.locator(".calculator-faults")).to_contain_text("another version of the handbook")
    expect(form.locator('input[name="systolic_mmhg"]')).to_have_value("")


@pytest.mark.parametrize(
    "typed", ["<img src=x onerror=alert(1)>", "javascript:alert(1)", "1e999", "NaN", "9" * 400, "\x00\u202e120"]
)
def test_hostile_address_is_text_and_nothing_more(typed: str, open_page: Opener, address: str) -> None:
    """What stands in an address is cut short, shown as typed, and refused in words. No script runs."""
    page = open_page(address + PRESSURE + fragment("mean_arterial_pressure", systolic_mmhg=typed, diastolic_mmhg="80"))
    form = calculator(page)
    form.get_by_role("button", name="Work it out").click()
    expect(fault(form, "systolic_mmhg")).not_to_be_empty()
    assert len(form.locator('input[name="systolic_mmhg"]').input_value()) <= 80
    expect(number(form, "one_third")).to_have_count(0)
    expect(spoken(form)).to_have_text("")


@pytest.mark.parametrize("rest", ["#sum=no_such&format=1&x=1", "#sum=mean_arterial_pressure&format=1&__proto__=1",
                                  "#%E0%A4%A", "#sum", "#&&==", "#" + "a" * 3000])
def test_odd_address_does_no_harm(rest: str, open_page: Opener, address: str) -> None:
    """The page works as if nothing had been there."""
    form = calculator(open_page(address + PRESSURE + rest))
    enter(form, {"systolic_mmhg": "120", "diastolic_mmhg": "80"})
    expect(number(form, "one_third")).to_have_text("93")
