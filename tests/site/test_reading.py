"""Every page can be read: on the narrowest phone, without scripts, by keyboard alone and by assistive technology."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.site.calculators import LEG, PRESSURE, calculator, enter, number
from tests.site.conftest import Opener
from tests.site.pages import all_pages
from tests.whole import BOOK

AXE = Path(__file__).parent / "node_modules" / "axe-core" / "axe.min.js"
GOOD = {"systolic_mmhg": "120", "diastolic_mmhg": "80"}
LEGS = {
    "ankle_mmhg.right.1": "92", "ankle_mmhg.right.2": "88", "ankle_mmhg.left.1": "no-flow",
    "ankle_mmhg.left.2": "110", "arm_mmhg.1": "120", "arm_mmhg.2": "138",
}


def axe_finds(page: Page) -> list[str]:
    page.evaluate(AXE.read_text(encoding="utf-8"))
    found = page.evaluate("() => axe.run(document, {resultTypes: ['violations']})")
    return [
        f"{one['id']}: {node['target']} {node['failureSummary']}"
        for one in found["violations"] for node in one["nodes"]
    ]


@pytest.mark.slow
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_in_a_calculator_at_work(scheme: str, open_page: Opener, address: str) -> None:
    """With results and everything unfolded, then with an old result, then with faults."""
    page = open_page(address + LEG, color_scheme=scheme)
    form = calculator(page, "ankle_brachial_index")
    enter(form, LEGS)
    expect(number(form, "higher_ankle", "right")).to_have_text("0.67")
    page.evaluate("() => document.querySelectorAll('details').forEach((one) => { one.open = true; })")
    assert axe_finds(page) == []
    enter(form, {"arm_mmhg.1": ""})
    expect(form.locator(".calculator-old")).to_be_visible()
    assert axe_finds(page) == []
    form.get_by_role("button", name="Work it out").click()
    expect(form.locator(".calculator-faults")).to_be_focused()
    assert axe_finds(page) == []


@pytest.mark.slow
def test_no_page_scrolls_sideways_on_the_narrowest_phone(open_page: Opener, address: str, built_site: Path) -> None:
    """A phone of 360 px shows every page in full width."""
    page = open_page(address)
    wide = []
    for name in all_pages(built_site):
        page.goto(address + name)
        if page.evaluate("() => document.documentElement.scrollWidth") > 360:
            wide.append(name)
    assert wide == []


def test_results_fit_the_narrowest_phone(open_page: Opener, address: str) -> None:
    """With every part unfolded."""
    page = open_page(address + LEG)
    form = calculator(page, "ankle_brachial_index")
    enter(form, LEGS)
    expect(number(form, "higher_ankle", "right")).to_have_text("0.67")
    page.evaluate("() => document.querySelectorAll('details').forEach((one) => { one.open = true; })")
    assert page.evaluate("() => document.documentElement.scrollWidth") == 360


def test_everything_a_thumb_must_hit_is_44_px(open_page: Opener, address: str) -> None:
    """Fields, choices, buttons and folds of the calculators."""
    page = open_page(address + LEG)
    form = calculator(page, "ankle_brachial_index")
    enter(form, LEGS)
    expect(number(form, "higher_ankle", "right")).to_have_text("0.67")
    targets = form.locator("input[type=text], select, button, summary, label.calculator-choice, .calculator-glance a")
    small = [
        box for box in (target.bounding_box() for target in targets.all() if target.is_visible())
        if box and (box["height"] < 44 or box["width"] < 44)
    ]
    assert small == []


@pytest.mark.slow
@pytest.mark.parametrize("name", sorted(BOOK.sheets))
def test_calculator_reads_without_scripts(name: str, open_page: Opener, address: str) -> None:
    """Formula, limits, example and notes stand open; the form that could not work is not shown."""
    sheet = BOOK.sheets[name].data
    [where] = {page.id for page in BOOK.pages_of_calculator(name)}
    page = open_page(f"{address}{where}.html", java_script_enabled=False)
    form = calculator(page, name)
    expect(form.locator("form")).to_be_hidden()
    expect(form.get_by_text("The live form needs JavaScript.")).to_be_visible()
    for output in sheet["outputs"]:
        expect(form.get_by_text(output["equation"], exact=True).first).to_be_visible()
    for scheme in sheet.get("schemes", []):
        for band in scheme.get("bands") or scheme["rules"]:
            row = form.locator(f'tr[data-scheme="{scheme["id"]}"][data-band="{band["id"]}"]')
            expect(row).to_contain_text(band["label"])
            expect(row).to_be_visible()
    expect(form.get_by_text("Figures of the example:")).to_be_visible()


def test_calculator_works_by_keyboard_alone(open_page: Opener, address: str) -> None:
    """Tab from field to field, Enter for the answer, arrows for the unit; the focus can always be seen."""
    page = open_page(address + PRESSURE)
    form = calculator(page)
    form.locator("input[type=radio]").first.focus()
    page.keyboard.press("Tab")
    page.keyboard.type("120")
    page.keyboard.press("Tab")
    page.keyboard.type("80")
    page.keyboard.press("Enter")
    expect(number(form, "one_third")).to_have_text("93")
    field = form.locator('input[name="diastolic_mmhg"]')
    expect(field).to_be_focused()
    assert field.evaluate("(one) => getComputedStyle(one).outlineStyle") != "none"
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    expect(form.get_by_role("button", name="Work it out")).to_be_focused()
    form.locator("input[type=radio]").first.focus()
    page.keyboard.press("ArrowRight")
    expect(form.get_by_role("radio", name="kPa")).to_be_checked()


def test_first_tab_stop_leads_to_the_content(open_page: Opener, address: str) -> None:
    """A reader by keyboard does not walk through the navigation on every page."""
    page = open_page(address + PRESSURE)
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    assert "#" in page.url
    page.keyboard.press("Tab")
    assert page.evaluate("() => document.activeElement.closest('main') !== null")


def test_print_shows_what_is_folded(open_page: Opener, address: str) -> None:
    """On paper nothing can be unfolded."""
    page = open_page(address + PRESSURE)
    form = calculator(page)
    enter(form, GOOD)
    expect(number(form, "one_third")).to_have_text("93")
    page.evaluate("() => window.dispatchEvent(new Event('beforeprint'))")
    assert page.locator("[data-calculator] details:not([open])").count() == 0


def test_no_page_shows_its_own_source(built_site: Path) -> None:
    """No caution, mark, quoted value or block reaches the reader as it was written."""
    left = re.compile(r"!!! |\[@|\{\{|\[(?:common practice|from memory|local sign-off)\]|```")
    seen = {
        path.name: found.group()
        for path in sorted(built_site.rglob("*.html"))
        if (found := left.search(re.sub(r"<script.*?</script>", "", path.read_text(encoding="utf-8"), flags=re.DOTALL)))
    }
    assert seen == {}
