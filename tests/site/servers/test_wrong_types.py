"""A server that calls every file but the pages plain text: what readers still have, and what they are told.

That both engines calculate there is held in test_engines.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from build_tools.server import running
from tests.site.calculators import PRESSURE, calculator, enter, number
from tests.site.conftest import SUB_PATH, Opener

STYLED = """
  document.adoptedStyleSheets.length === document.querySelectorAll('link[rel=stylesheet]').length
  && getComputedStyle(document.body).getPropertyValue('--pr-ink') !== ''
"""


@pytest.fixture
def base(built_site: Path) -> Iterator[str]:
    with running(built_site, prefix=SUB_PATH, wrong_types=True) as base:
        yield base


def expect_styles(page: Page) -> None:
    """The sheets that the browser dropped are all there, in their order."""
    # The policy lets no page wait for words of a test by itself.
    for _ in range(100):
        if page.evaluate(STYLED):
            return
        page.wait_for_timeout(50)
    pytest.fail(f"{page.url} has no styles")


def test_pages_are_read_searched_and_calculated_with_their_styles(base: str, open_page: Opener) -> None:
    page = open_page(base)
    expect_styles(page)
    page.locator("[data-search-input]").first.fill("jugular")
    page.locator("[data-search-results] a").first.click()
    expect(page.locator("h1")).to_be_visible()
    expect_styles(page)
    page.goto(base + PRESSURE)
    expect_styles(page)
    form = calculator(page)
    enter(form, {"systolic_mmhg": "120", "diastolic_mmhg": "80"})
    expect(number(form, "one_third")).to_have_text("93", timeout=30_000)


def test_what_can_not_be_kept_is_said(base: str, open_page: Opener) -> None:
    page = open_page(f"{base}about/offline.html", faults=True, service_workers="allow")
    expect(page.locator("[data-offline-told]")).to_contain_text("unsupported MIME type", timeout=30_000)


def test_styles_are_fetched_once_where_the_server_is_right(address: str, open_page: Opener) -> None:
    page = open_page(address)
    page.wait_for_load_state("load")
    assert page.evaluate("document.adoptedStyleSheets.length") == 0
