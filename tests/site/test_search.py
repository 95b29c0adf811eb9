"""Search: forty questions of a student at the bed, other spellings and names, and the list that leads on."""

from __future__ import annotations

import time
import tomllib
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page

from build_tools.search import folded_words
from tests.site.conftest import Opener
from tests.site.pages import results

TASKS: list[dict[str, Any]] = tomllib.loads((Path(__file__).parent / "tasks.toml").read_text(encoding="utf-8"))["tasks"]

SPELLINGS = [
    "Oedema, ischaemia and haemorrhage", "tumour colour four hour", "Kussmaul's and Corrigan’s signs", "S₃ and cmH₂O",
    "pulses bruits stenoses pulsus axis press", "café-au-lait Ménière", "0.91 120/80 −3",
    "waves veins branches boxes arteries",
]


def test_each_bedside_question_finds_its_page_among_the_first_three(searching: Page) -> None:
    missed = {
        task["asks"]: found[:3]
        for task in TASKS
        if task["page"] not in (found := results(searching, task["asks"]))[:3]
    }
    assert len(TASKS) >= 30
    assert not missed


@pytest.mark.parametrize("task", [task for task in TASKS if "touches" in task], ids=lambda task: task["page"])
def test_two_touches_from_home_reach_the_page(open_page: Opener, address: str, task: dict[str, Any]) -> None:
    page = open_page(f"{address}index.html")
    assert len(task["touches"]) <= 2
    for words in task["touches"]:
        page.get_by_role("main").get_by_role("link", name=words, exact=True).click()
    assert page.url.partition("#")[0] == address + task["page"]


@pytest.mark.parametrize(("one", "other"), [
    ("collapsing pulse", "collapsing pulses"),
    ("carotid bruit", "carotid bruits"),
    ("ischaemia", "ischemia"),
    ("abdominojugular test", "abdominojuglar test"),
])
def test_plurals_american_spelling_and_a_slip_find_the_same_page(searching: Page, one: str, other: str) -> None:
    assert results(searching, one)[0] == results(searching, other)[0]


def test_nothing_found_says_what_to_do(searching: Page) -> None:
    searching.fill("#search-here", "xylophone")
    assert "Nothing found" in searching.inner_text(".search-here .search-count")


def test_a_result_comes_within_a_tenth_of_a_second(searching: Page) -> None:
    taken = searching.evaluate(
        """async () => {
          const input = document.querySelector('#search-here');
          const list = document.querySelector('.search-here .search-results');
          const start = performance.now();
          input.value = 'slow rising pulse with a thrill';
          input.dispatchEvent(new Event('input', { bubbles: true }));
          while (!list.textContent.includes('Slow-rising')) await new Promise((done) => setTimeout(done, 1));
          return performance.now() - start;
        }"""
    )
    assert taken < 100


def test_the_page_folds_words_as_the_index_does(searching: Page) -> None:
    """If the two parted, a word could stand in the index and never be found."""
    for text in SPELLINGS:
        assert searching.evaluate("text => pulseRuler.foldedWords(text)", text) == folded_words(text), text


def test_search_opens_under_the_thumb_and_gives_the_focus_back(open_page: Opener, address: str) -> None:
    page = open_page(f"{address}findings/index.html")
    button = page.locator(".thumb-bar [data-search-open]")
    button.click()
    assert page.evaluate("document.activeElement.id") == "search-everywhere"
    page.keyboard.type("kussmaul's sign")
    page.wait_for_selector("dialog .search-results li:first-child a:has-text('Kussmaul')")
    page.keyboard.press("ArrowDown")
    assert "Kussmaul" in page.evaluate("document.activeElement.textContent")
    page.keyboard.press("Escape")
    assert button.evaluate("button => button === document.activeElement")


def test_a_result_leads_to_its_page_from_any_depth(open_page: Opener, address: str) -> None:
    page = open_page(f"{address}examination/blood-pressure.html")
    page.locator(".thumb-bar [data-search-open]").click()
    page.fill("#search-everywhere", "kussmaul's sign")
    page.wait_for_selector("dialog .search-results li:first-child a:has-text('Kussmaul')")
    page.keyboard.press("Enter")
    page.wait_for_url(f"{address}findings/kussmaul-sign.html")


def test_a_search_list_that_cannot_be_loaded_is_told(open_page: Opener, address: str) -> None:
    page = open_page(f"{address}index.html", faults=True)
    page.route("**/search/index.json", lambda route: route.abort())
    start = time.monotonic()
    page.fill("#search-here", "pulse")
    page.wait_for_function("document.querySelector('.search-here .search-count').textContent.includes('could not')")
    assert time.monotonic() - start < 5
