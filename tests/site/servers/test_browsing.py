"""A reader's way through the handbook on nginx and Apache: reading, searching, calculating, and without a network."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Page, Playwright, expect

from tests.site import network_log
from tests.site.calculators import PRESSURE, calculator, enter, expect_agreement, number
from tests.site.conftest import ARGUMENTS, PHONE, chromium_path, watch
from tests.site.servers.standing import HOST, MACHINE, PLACES, SERVERS, key_of, standing

pytestmark = pytest.mark.slow

STEP = "examination/jugular-venous-pressure.html"
KEEP = "about/offline.html"


@pytest.mark.parametrize("scheme", ["http", "https"])
@pytest.mark.parametrize("server", SERVERS)
def test_a_reader_finds_everything_at_the_root_and_under_a_path(
    server: str, scheme: str, built_site: Path, tmp_path: Path, browsers: Playwright
) -> None:
    """Over https it is kept, and all is done again when the server is gone; over http the page says why not."""
    told: list[str] = []
    log = tmp_path / "network.json"
    with standing(server, built_site) as made:
        arguments = [
            *ARGUMENTS[:-1],
            # A name, so that plain http does not count as safe, and no other name leads anywhere.
            f"--host-resolver-rules=MAP {HOST} {MACHINE}, MAP * ~NOTFOUND",
            # Chromium takes this one key for good, whoever has signed it; a worker would not start otherwise.
            f"--ignore-certificate-errors-spki-list={key_of(made.certificate)}",
            *network_log.writing(log),
        ]
        browser = browsers.chromium.launch(executable_path=chromium_path(), args=arguments)
        pages = {}
        for place in PLACES:
            pages[place] = page = browser.new_page(viewport=PHONE)
            page.set_default_timeout(15_000)
            watch(page, told)
            base = made.address(place, scheme)
            read_search_and_calculate(page, base)
            page.goto(base + KEEP)
            if scheme == "http":
                kept_says(page, "browsers keep pages only from an address that begins with https")
                continue
            kept_says(page, "All pages and the first calculation engine are kept")
            if place == "sub":
                page.get_by_role("button", name="Keep the whole handbook").click()
                kept_says(page, "The whole handbook is kept on this device")
            assert page.evaluate("navigator.serviceWorker.ready.then((found) => found.scope)") == base
        if scheme == "https":
            made.stop()
            for place, page in pages.items():
                # The second engine is kept where the whole was asked for.
                read_search_and_calculate(page, made.address(place, scheme), both_engines=place == "sub")
        browser.close()
    # One of the headers counts over https alone, and Chromium says so on every page.
    assert not [line for line in told if scheme == "https" or "Cross-Origin-Opener-Policy header has been" not in line]
    asked = network_log.asked_for(log)
    own = tuple(made.address(place, scheme) for place in PLACES)
    assert any(address.endswith(".bin") for address in asked), "the log must hold the requests of workers"
    assert not {address for address in asked if not address.startswith(own)}


def read_search_and_calculate(page: Page, base: str, *, both_engines: bool = True) -> None:
    """Open the bare address, find a step by searching, go on from it by a link, and let the engines answer."""
    page.goto(base)
    expect(page.locator("h1")).to_be_visible()
    styled = "getComputedStyle(document.body).getPropertyValue('--pr-ink').trim()"
    assert page.evaluate(styled), "the style sheet did not come"
    page.locator("[data-search-input]").first.fill("jugular")
    page.locator(f'[data-search-results] a[href*="{Path(STEP).name}"]').first.click()
    expect(page).to_have_url(re.compile(re.escape(base + STEP)))
    page.locator('article a[href^="../findings/"]').first.click()
    expect(page).to_have_url(re.compile(re.escape(f"{base}findings/")))
    expect(page.locator("h1")).to_be_visible()
    page.goto(base + PRESSURE)
    form = calculator(page)
    enter(form, {"systolic_mmhg": "120", "diastolic_mmhg": "80"})
    expect(number(form, "one_third")).to_have_text("93", timeout=30_000)
    if both_engines:
        expect_agreement(form)


def kept_says(page: Page, words: str) -> None:
    expect(page.locator("[data-offline-told]")).to_contain_text(words, timeout=60_000)
