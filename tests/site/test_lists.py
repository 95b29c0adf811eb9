"""Lists: the examination by region, the running order on two sides of paper, and what a beginner may leave out."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from build_tools import handbook, step_lists
from build_tools.environment import ROOT
from tests.site.conftest import Opener

BOOK = handbook.load(ROOT, unread_ok=True)
STEPS = BOOK.of_kind("step")
LISTS = {"examination": "step", "findings": "finding", "conditions": "condition"}
ORDER = "examination/running-order.html"
ROUTES = {"all": None, "2": 2, "8": 8, "20": 20}


def shown(page: Page, rows: str) -> list[str]:
    """The links that open the visible rows."""
    return [
        row.locator("a").first.get_attribute("href") or ""
        for row in page.locator(rows).all() if row.is_visible()
    ]


def test_the_index_gives_every_step_by_region_in_bedside_order(open_page: Opener, address: str) -> None:
    page = open_page(f"{address}examination/index.html")
    assert shown(page, ".steps > li") == [f"{step.slug}.html" for step in STEPS]
    regions = step_lists.regions(BOOK)
    assert page.locator("[data-list-group] > h2").all_inner_texts() == [region.words for region in regions]
    ways = page.locator("nav[aria-label=Regions] a").all()
    assert [way.get_attribute("href") for way in ways] == [f"#{region.id}" for region in regions]
    for step in STEPS:
        told = page.locator(f".steps > li:has(a[href='{step.slug}.html'])").inner_text()
        assert step.meta["level"] in told
        for route in step.listed("routes"):
            assert re.search(rf"\bin .*\b{route}\b.* min", told), told


def plain(words: str) -> str:
    """Words without marks, the numbers of sources and the signs of labels."""
    return re.sub(r"\s*(\[[^\]]*\]|[†‡§])", "", " ".join(words.split()))


@pytest.mark.parametrize("name", LISTS)
def test_a_beginner_hides_what_is_beyond_the_core_everywhere(open_page: Opener, address: str, name: str) -> None:
    """The choice is kept, the count is told, and search and the next visit know what they should."""
    pages = BOOK.of_kind(LISTS[name])
    core = [page for page in pages if page.meta["level"] == "core"]
    page = open_page(f"{address}{name}/index.html")
    rows = page.locator("[data-level]")
    assert rows.count() == len(pages)
    page.get_by_label("Core only").check()
    expect(page.locator("[data-level]:visible")).to_have_count(len(core))
    expect(page.locator("[data-list-count]")).to_contain_text(f"{len(pages) - len(core)} of {len(pages)} hidden")
    assert page.locator("[data-list-group]:visible nav").count() == 0
    for other in LISTS:
        page.goto(f"{address}{other}/index.html")
        assert page.get_by_label("Core only").is_checked()
        assert not page.locator("[data-level=specialist]:visible").count()
    page.locator(".thumb-bar [data-search-open]").click()
    page.fill("#search-everywhere", "ventricular assist device")
    expect(page.locator("dialog .search-results li").first).to_contain_text("heart pump")
    page.keyboard.press("Escape")
    page.get_by_label("Core only").uncheck()
    page.reload()
    assert not page.get_by_label("Core only").is_checked()


def test_the_list_of_findings_narrows_and_tells_what_is_hidden(open_page: Opener, address: str) -> None:
    page = open_page(f"{address}findings/index.html")
    page.fill("#list-filter", "corrigan")
    expect(page.locator("[data-level]:visible").first).to_contain_text("Collapsing pulse")
    letters = page.locator(".letters li:visible").all_inner_texts()
    assert letters == page.locator("[data-list-group]:visible h2").all_inner_texts() != []
    page.fill("#list-filter", "pulse")
    pulses = page.locator("[data-level]:visible")
    beyond = sum(one.get_attribute("data-level") != "core" for one in pulses.all())
    page.get_by_label("Core only").check()
    expect(page.locator("[data-list-count]")).to_contain_text(f"and {beyond} hidden")


def test_without_scripts_the_lists_stand_in_full(open_page: Opener, address: str) -> None:
    page = open_page(f"{address}examination/index.html", java_script_enabled=False)
    assert len(shown(page, ".steps > li")) == len(STEPS)
    assert not page.get_by_text("Core only").is_visible()


@pytest.mark.parametrize("route", ROUTES)
def test_the_running_order_is_chosen_without_scripts(open_page: Opener, address: str, route: str) -> None:
    page = open_page(address + ORDER, java_script_enabled=False)
    page.locator(f"label:has(#route-{route})").click()
    wanted = [step for step in STEPS if route == "all" or ROUTES[route] in step.listed("routes")]
    assert shown(page, ".order > li") == [f"{step.slug}.html" for step in wanted]
    told = page.locator(".route-told:visible").inner_text()
    counted = [step for step in wanted if route != "all" or step.meta["region"] not in step_lists.APART]
    minutes = round(sum(step.meta["seconds"] for step in counted) / 60)
    assert f"{len(counted)} steps" in told and f"about {minutes} minutes" in told
    # A region whose steps are all left out is left out too.
    for section in page.locator(".running-order section").all():
        assert section.is_visible() == bool(shown(page, f"#{section.locator('h2').get_attribute('id')} + .order > li"))


def test_each_line_of_the_running_order_keeps_its_first_caution(open_page: Opener, address: str) -> None:
    page = open_page(address + ORDER)
    for step in STEPS:
        line = page.locator(f".order > li:has(> p > a[href='{step.slug}.html']) .order-stop").inner_text()
        assert plain(line) == f"Stop: {plain(step.meta['summary']['stop'])}", step.id


def test_putting_together_and_variations_stand_apart(open_page: Opener, address: str) -> None:
    page = open_page(address + ORDER)
    apart = [f"{step.slug}.html" for step in STEPS if step.meta["region"] in step_lists.APART]
    assert apart and shown(page, ".order-apart .order > li") == apart


@pytest.mark.parametrize("route", ROUTES)
def test_the_running_order_prints_on_two_sides(open_page: Opener, address: str, route: str) -> None:
    page = open_page(address + ORDER)
    page.locator(f"label:has(#route-{route})").click()
    sheets = re.findall(rb"/Type\s*/Page\b", page.pdf(format="A4", prefer_css_page_size=True))
    assert 1 <= len(sheets) <= 2


def test_home_and_the_index_lead_to_the_running_order(open_page: Opener, address: str) -> None:
    for name in ("index.html", "examination/index.html"):
        page = open_page(address + name)
        page.get_by_role("main").get_by_role("link", name="running order").click()
        page.wait_for_url(address + ORDER)


def test_calculators_are_one_line_each_and_narrow_by_word(open_page: Opener, address: str) -> None:
    """Grouped by their page; each says what it needs and gives; a word, an alias or its question finds it."""
    page = open_page(f"{address}calculators/index.html")
    groups = BOOK.of_kind("calculators")
    ids = [name for group in groups for name in group.listed("calculators")]
    rows = page.locator("[data-list-group] li")
    assert rows.count() == len(ids) == len(set(ids)) == len(BOOK.sheets)
    assert page.locator("[data-list-group] > h2").all_inner_texts() == [group.title for group in groups]
    for text in rows.all_inner_texts():
        assert re.search(r"Needs .+\. Gives .+\.$", text), text
    box = page.locator("#list-filter")
    for word, found in (("waist", ["Body size"]), ("NEWS2", ["Early-warning score (NEWS2)"]), ("zzz", [])):
        box.fill(word)
        expect(page.locator("[data-list-group] li:visible")).to_have_count(len(found))
        for title in found:
            expect(page.locator("[data-list-group] li:visible a")).to_contain_text(title.split(" (")[0])
        expect(page.locator("[data-list-count]")).to_contain_text(f"{len(found)} of {len(ids)}")
        assert page.locator("[data-list-group]:visible").count() == len(found)
