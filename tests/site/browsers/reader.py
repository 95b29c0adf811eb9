"""A reader in any browser: the few verbs that the journeys are told in."""

from __future__ import annotations

import shutil
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Protocol

from playwright.sync_api import Page

from build_tools import offline
from build_tools.runtime import TOP

WATCH = "watch.js"
PATIENCE = 60  # seconds; the second engine takes ten in WebKit, and longer on a busy machine


class Driver(Protocol):
    """What a browser must be able to do. `place` is a CSS selector; the first match counts."""

    name: str

    def open(self, address: str) -> None: ...
    def run(self, script: str, *given: Any) -> Any: ...
    def type(self, place: str, text: str) -> None: ...
    def press(self, place: str) -> None: ...


class Playwrighted:
    """A page of Playwright in the same verbs."""

    def __init__(self, name: str, page: Page) -> None:
        self.name = name
        self._page = page

    def open(self, address: str) -> None:
        self._page.goto(address)

    def run(self, script: str, *given: Any) -> Any:
        return self._page.evaluate(f"(given) => (function () {{ {script} }}).apply(null, given)", list(given))

    def type(self, place: str, text: str) -> None:
        self._page.locator(place).first.press_sequentially(text)

    def press(self, place: str) -> None:
        self._page.locator(place).first.click()


class Reader:
    """Somebody who reads in one browser. No page may go wrong on the way: `faults` tells what did."""

    def __init__(self, driver: Driver) -> None:
        self.browser = driver.name
        self._driver = driver
        self._faults: list[str] = []

    def open(self, address: str) -> None:
        # A change of the part after "#" alone would not load the page anew.
        self.leave()
        self._driver.open(address)

    def leave(self) -> None:
        """Turn to an empty page, so that what one test leaves open is not there for the next."""
        self._collect()
        self._driver.open("about:blank")

    def follow(self, place: str) -> None:
        """Touch a link and wait for its page."""
        self._collect()
        address = self.run("return document.querySelector(arguments[0]).href", place)
        self._driver.press(place)
        self.wait("return location.href === arguments[0] && document.readyState === 'complete'", address)

    def type(self, place: str, text: str) -> None:
        self._driver.type(place, text)

    def press(self, place: str) -> None:
        self._driver.press(place)

    def run(self, script: str, *given: Any) -> Any:
        return self._driver.run(script, *given)

    def text(self, place: str) -> str:
        """The words that the first match holds; empty while there is none."""
        found = self.run("return document.querySelector(arguments[0])?.textContent ?? ''", place)
        return " ".join(str(found).split())

    def shown(self, place: str) -> bool:
        script = "const found = document.querySelector(arguments[0]); return Boolean(found?.getClientRects().length)"
        return bool(self.run(script, place))

    def wait(self, script: str, *given: Any) -> None:
        """Wait until a script gives something true."""
        end = time.monotonic() + PATIENCE
        while not self.run(script, *given):
            assert time.monotonic() < end, f"{self.browser}: waited in vain for {script} {given}"
            time.sleep(0.05)

    def wait_for_text(self, place: str, *words: str) -> str:
        """Wait until the first match holds all the words; gives its whole text."""
        end = time.monotonic() + PATIENCE
        while not all(word in (found := self.text(place)) for word in words):
            assert time.monotonic() < end, f"{self.browser}: {place} should hold {words}, and holds {found!r}"
            time.sleep(0.05)
        return found

    def faults(self) -> list[str]:
        """What went wrong on the pages so far: errors of scripts, files that did not come, breaches of the policy."""
        self._collect()
        found, self._faults = self._faults, []
        return found

    def _collect(self) -> None:
        self._faults += self.run("return (window.pageFaults || []).splice(0)")


def watched(site: Path, copy: Path) -> Path:
    """Copy a site and let each of its pages note what goes wrong on it: not every browser would tell."""
    shutil.copytree(site, copy, ignore=shutil.ignore_patterns("*.gz"), dirs_exist_ok=True)
    shutil.copyfile(Path(__file__).with_name(WATCH), copy / WATCH)
    for page in copy.rglob("*.html"):
        up = "../" * (len(page.relative_to(copy).parts) - 1)
        text = page.read_text(encoding="utf-8")
        assert TOP in text, page
        text = text.replace(TOP, f'{TOP}<script src="{up}{WATCH}"></script>', 1)
        page.write_text(text, encoding="utf-8", newline="\n")
    if (copy / offline.WORKER).exists():
        offline.write(copy)  # it holds the hash of each page
    return copy


@contextmanager
def reading(driver: Driver) -> Iterator[Reader]:
    """Read in a browser; afterwards nothing may have gone wrong."""
    reader = Reader(driver)
    yield reader
    reader.leave()
    assert not reader.faults()
