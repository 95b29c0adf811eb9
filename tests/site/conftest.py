"""What the browser tests share: one Chromium, the built site on a local server, and a watch on every page."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, Page, Playwright, sync_playwright

from build_tools.server import running

# No name resolves but the local address, so nothing can leave unseen.
ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1",
]
SUB_PATH = "/ward/handbook/"
PHONE = {"width": 360, "height": 740}

Opener = Callable[..., Page]


def chromium_path() -> str:
    found = shutil.which("chromium")
    assert found, "The browser tests need Chromium. On Debian: apt-get install chromium"
    return found


@pytest.fixture(scope="session")
def browsers() -> Iterator[Playwright]:
    """What starts browsers; there can be only one of it in a run."""
    with sync_playwright() as playwright:
        yield playwright


@pytest.fixture(scope="session")
def chromium(browsers: Playwright) -> Iterator[Browser]:
    browser = browsers.chromium.launch(executable_path=chromium_path(), args=ARGUMENTS)
    yield browser
    browser.close()


@pytest.fixture(scope="session")
def address(built_site: Path) -> Iterator[str]:
    """The built site under a sub-path; ends with a slash."""
    with running(built_site, prefix=SUB_PATH) as base:
        yield base


@pytest.fixture
def open_page(chromium: Browser) -> Iterator[Opener]:
    """Open an address in a context of its own, as a phone unless told otherwise.

    After the test no page may have broken a security rule, thrown an error or written one to the console;
    `faults=True` leaves out errors that the test provokes, never the security rules.
    """
    contexts: list[BrowserContext] = []
    told: list[str] = []

    def opener(address: str, *, faults: bool = False, script: str = "", **options: object) -> Page:
        # Only the tests of keeping let a page keep anything: elsewhere what the server sends counts.
        context = chromium.new_context(**{"viewport": PHONE, "service_workers": "block", **options})
        contexts.append(context)
        context.set_default_timeout(15_000)
        if script:
            context.add_init_script(script)
        page = context.new_page()
        watch(page, told, faults)
        page.goto(address)
        return page

    yield opener
    for context in contexts:
        context.close()
    assert not told


@pytest.fixture
def searching(open_page: Opener, address: str) -> Page:
    """The home page with its search list loaded."""
    page = open_page(f"{address}index.html")
    page.fill("#search-here", "pulse")
    page.wait_for_selector(".search-here .search-results li")
    return page


def watch(page: Page, told: list[str], faults: bool = False) -> None:
    """Write into `told` what a page does wrong; with `faults`, only breaches of the security rules."""

    def hear(message: ConsoleMessage) -> None:
        breach = "Content Security Policy" in message.text
        if breach or (message.type == "error" and not faults):
            told.append(f"{page.url}: {message.text}")

    page.on("console", hear)
    if not faults:
        page.on("pageerror", lambda error: told.append(f"{page.url}: {error}"))
