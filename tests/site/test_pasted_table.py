"""A table that a teacher pastes: read line by line, told where it is wrong, worked out on the phone."""

from __future__ import annotations

from playwright.sync_api import expect

from tests.calculators.test_borderline_regression import TABLE
from tests.site.calculators import calculator, expect_agreement, fault, number, spoken
from tests.site.conftest import Opener

PAGE = "calculators/teaching.html"
NAME = "borderline_regression"


def test_pasted_marks_give_a_cut_score(open_page: Opener, address: str) -> None:
    """The cut score, its interval, and the caution that these are few."""
    page = open_page(address + PAGE)
    form = calculator(page, NAME)
    form.get_by_label("Grades and scores").fill("Grade\tScore\n" + TABLE.replace(" ", "\t"))
    form.get_by_label("Borderline grade").fill("2")
    expect(number(form, "cut")).to_have_text("51.10")
    expect(spoken(form)).to_contain_text("The cut score is 51.10.")
    expect(form.locator('[data-output="cut"] .calculator-uncertainty')).to_contain_text("48.80 to 53.40")
    expect(form.locator(".calculator-cautions")).to_contain_text("fewer candidates than the method needs")
    expect_agreement(form)
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_odd_line_is_told_with_its_number(open_page: Opener, address: str) -> None:
    """On leaving the table, beside it, without a change of what was pasted; clearing empties it."""
    form = calculator(open_page(address + PAGE), NAME)
    table = form.get_by_label("Grades and scores")
    table.fill(TABLE + "\nNo 16 2 50")
    table.blur()
    expect(fault(form, "marks")).to_contain_text("Line 16: “No 16 2 50” has 4 parts.")
    assert table.get_attribute("aria-invalid") == "true"
    expect(table).to_have_value(TABLE + "\nNo 16 2 50")
    form.get_by_role("button", name="Clear").click()
    expect(table).to_have_value("")
    expect(fault(form, "marks")).to_be_hidden()
