"""The probability after findings on a phone: chosen from a list by condition, drawn, and refused where it must be."""

from __future__ import annotations

from playwright.sync_api import expect

from tests.site.calculators import calculator, enter, number, spoken
from tests.site.conftest import Opener

PAGE = "calculators/probability.html"
NAME = "probability_after_findings"
FOOT = "absent-foot-pulse-peripheral-artery-disease-found"
PULSE = "pulse-deficit-between-limbs-aortic-dissection-found"
MURMUR = "early-diastolic-murmur-aortic-dissection-found"


def test_a_finding_is_chosen_under_its_condition_and_drawn(open_page: Opener, address: str) -> None:
    """From before to after, with its interval; what was studied in whom stands first in the working."""
    page = open_page(address + PAGE)
    form = calculator(page, NAME)
    expect(form.locator('select[name="first"] optgroup[label="Peripheral artery disease"]')).to_have_count(1)
    enter(form, {"before_percent": "20", "first": FOOT})
    expect(number(form, "after")).to_have_text("54.0")
    drawn = form.locator(".calculator-card .calculator-drawing")
    expect(drawn.locator(".drawing-reach")).to_have_count(1)
    expect(drawn.locator("circle")).to_have_count(2)
    expect(drawn.locator("figcaption")).to_contain_text("From 20 % before, the open dot, to 54.0 % after")
    expect(form.locator(".calculator-card .calculator-working li").first).to_contain_text("Khan et al. 2006")
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_what_cannot_go_together_is_refused_at_once(open_page: Opener, address: str) -> None:
    """The reason stands above the form and is spoken, without the button; mending it gives the answer."""
    form = calculator(open_page(address + PAGE), NAME)
    enter(form, {"before_percent": "20", "first": PULSE, "second": FOOT})
    told = form.locator(".calculator-faults")
    expect(told).to_contain_text("Ratios of different targets or different people cannot be multiplied")
    expect(spoken(form)).to_contain_text("cannot be multiplied")
    enter(form, {"second": MURMUR})
    expect(told).to_be_hidden()
    expect(number(form, "after")).to_have_text("66.6")
    expect(form.locator(".calculator-cautions")).to_contain_text("No interval is given")


def test_the_page_of_a_finding_leads_there(open_page: Opener, address: str) -> None:
    page = open_page(address + "findings/absent-foot-pulse.html")
    page.get_by_role("link", name="Probability after findings").first.click()
    expect(calculator(page, NAME)).to_be_in_viewport()
