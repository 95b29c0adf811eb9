"""Three browsers for the same journeys, and a table of what ran where at the end."""

from __future__ import annotations

import fnmatch
import shutil
from collections import defaultdict
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from build_tools.server import running
from tests.conftest import allowed_skips
from tests.site.browsers import webdriver
from tests.site.browsers.reader import Driver, Playwrighted, Reader, reading, watched
from tests.site.conftest import SUB_PATH

BROWSERS = ("Chromium", "Firefox", "WebKit")
HERE = "tests/site/browsers/"
HOW_TO_GET = "The journeys need it. On Debian: apt-get install firefox-esr webkit2gtk-driver xvfb"

# What came of each journey in each browser, for the table: {"portable: searches": {"Firefox": "ran"}}.
_outcomes: dict[str, dict[str, str]] = defaultdict(dict)


@pytest.fixture(scope="session")
def start(request: pytest.FixtureRequest) -> Iterator[Callable[[str], Driver]]:
    """Give a browser by its name, started when it is first asked for. All are told that the device is dark."""
    started: dict[str, Driver] = {}
    with ExitStack() as ends:

        def give(name: str) -> Driver:
            if name not in started:
                if name == "Chromium":
                    chromium: Browser = request.getfixturevalue("chromium")
                    started[name] = Playwrighted(name, chromium.new_page(color_scheme="dark"))
                elif name == "Firefox":
                    started[name] = ends.enter_context(webdriver.firefox(program("firefox-esr")))
                else:
                    started[name] = ends.enter_context(webdriver.webkit(program("WebKitWebDriver")))
            return started[name]

        yield give


def program(name: str) -> str:
    found = shutil.which(name)
    assert found, f"{name} is not there. {HOW_TO_GET}"
    return found


@pytest.fixture(params=BROWSERS)
def reader(request: pytest.FixtureRequest, start: Callable[[str], Driver]) -> Iterator[Reader]:
    """A reader in each browser in turn."""
    with reading(start(request.param)) as reader:
        yield reader


@pytest.fixture(scope="session")
def watched_site(built_site: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    return watched(built_site, tmp_path_factory.mktemp("watched") / "site")


@pytest.fixture(scope="session")
def site(watched_site: Path) -> Iterator[str]:
    """The address of the built site, whose pages note what goes wrong on them; ends with a slash."""
    with running(watched_site, prefix=SUB_PATH) as base:
        yield base


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """What a browser cannot do stands in one list with its reason, and is left out by it."""
    listed = allowed_skips()
    for item in items:
        for pattern, reason in listed.items():
            if item.nodeid.startswith(HERE) and fnmatch.fnmatchcase(item.nodeid, pattern):
                item.add_marker(pytest.mark.skip(reason=reason))


def pytest_runtest_logreport(report: pytest.TestReport) -> None:
    test, _, browser = report.nodeid.rstrip("]").partition("[")
    if not test.startswith(HERE) or browser not in BROWSERS:
        return
    module, _, journey = test.removeprefix(HERE).partition(".py::")
    row = _outcomes[f"{module}: {journey}".replace("test_", "").replace("_", " ")]
    if report.skipped:
        row[browser] = "cannot"
    elif report.failed:
        row[browser] = "FAILED"
    elif report.when == "call":
        row[browser] = "ran"


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    if not _outcomes:
        return
    terminalreporter.section("what ran in which browser")
    width = max(map(len, _outcomes))
    for journey, row in (("", {name: name for name in BROWSERS}), *_outcomes.items()):
        cells = "  ".join(f"{row.get(name, 'not asked'):9}" for name in BROWSERS)
        terminalreporter.line(f"{journey:{width}}  {cells}".rstrip())
    for pattern, reason in allowed_skips().items():
        if pattern.startswith(HERE):
            terminalreporter.line(f"cannot: {pattern.rpartition('::')[2]}: {reason}")
