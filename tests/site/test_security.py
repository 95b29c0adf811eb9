"""Nothing leaves the server, and nothing runs that the site does not hold as a file of its own."""

from __future__ import annotations

import http.client
import re
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Playwright

from build_tools.compressing import SUFFIX
from build_tools.headers import SECURITY_HEADERS, TYPES
from build_tools.placing import SERVER_FILES, files_of
from build_tools.server import running
from tests.site import network_log
from tests.site.calculators import PRESSURE, calculator, enter, expect_agreement
from tests.site.conftest import ARGUMENTS, PHONE, SUB_PATH, chromium_path, watch
from tests.site.pages import all_pages


@pytest.mark.slow
@pytest.mark.parametrize("prefix", ["/", SUB_PATH])
def test_no_request_leaves_the_server(prefix: str, built_site: Path, tmp_path: Path, browsers: Playwright) -> None:
    """Every page is visited, two calculators are used by both engines, and the search is asked."""
    log = tmp_path / "network.json"
    arguments = [*ARGUMENTS, *network_log.writing(log)]
    told: list[str] = []
    with running(built_site, prefix=prefix) as base:
        browser = browsers.chromium.launch(executable_path=chromium_path(), args=arguments)
        page = browser.new_page(viewport=PHONE)
        watch(page, told)
        for name in all_pages(built_site):
            page.goto(base + name)
        page.goto(base + PRESSURE)
        for name in ("mean_arterial_pressure", "pulse_pressure"):
            form = calculator(page, name)
            enter(form, {"systolic_mmhg": "120", "diastolic_mmhg": "80"})
            expect_agreement(form)
        page.goto(base + "index.html")
        page.locator("[data-search-input]").first.fill("jugular")
        page.locator("[data-search-results] a").first.wait_for()
        browser.close()
    assert not told
    addresses = network_log.asked_for(log)
    assert any(address.endswith(".bin") for address in addresses), "the log must hold the requests of workers"
    assert not {address for address in addresses if not address.startswith(base)}


class Markup(HTMLParser):
    """Collects what a strict policy forbids in a page, and what it fetches."""

    def __init__(self) -> None:
        super().__init__()
        self.forbidden: list[str] = []
        self.fetched: list[str] = []
        self.ids: list[str] = []
        self._code = False

    def handle_starttag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        given = dict(attributes)
        self.forbidden += [f"<{tag} {name}=" for name in given if name == "style" or name.startswith("on")]
        if tag == "style":
            self.forbidden.append("<style>")
        self._code = tag == "script" and "src" not in given and given.get("type") != "application/json"
        if tag in ("script", "img", "iframe", "source", "video", "audio") and given.get("src"):
            self.fetched.append(given["src"] or "")
        if tag == "link" and given.get("rel") not in ("canonical", "prev", "next") and given.get("href"):
            self.fetched.append(given["href"] or "")
        if given.get("id"):
            self.ids.append(given["id"] or "")

    def handle_data(self, data: str) -> None:
        if self._code and data.strip():
            self.forbidden.append(f"<script>{data.strip()[:40]}")
        self._code = False


def test_pages_hold_no_code_and_fetch_nothing_from_elsewhere(built_site: Path) -> None:
    """No script or style in the page, every address relative, every id once."""
    for name in all_pages(built_site):
        page = Markup()
        page.feed((built_site / name).read_text(encoding="utf-8"))
        assert not page.forbidden, name
        assert not [address for address in page.fetched if address.startswith(("/", "http"))], name
        assert len(page.ids) == len(set(page.ids)), (name, sorted({one for one in page.ids if page.ids.count(one) > 1}))


def test_site_holds_only_kinds_of_files_that_servers_know(built_site: Path) -> None:
    """A server that meets an unknown suffix may refuse the file. Settings for servers are for no reader."""
    names = [name for name in files_of(built_site) if not name.startswith(SERVER_FILES + "/")]
    assert {Path(name).suffix for name in names} <= {*TYPES, SUFFIX}


def test_engine_scripts_name_no_outside_address_to_fetch_from(built_site: Path) -> None:
    """Pyodide would ask a content network for packages; its address is taken out."""
    [script] = built_site.glob("engine/pyodide.*.js")
    assert "jsdelivr" not in script.read_text(encoding="utf-8")


def test_worker_scripts_carry_the_policy(built_site: Path, address: str) -> None:
    """A worker obeys the policy sent with its own script, not that of its page."""
    place = urlsplit(address)
    connection = http.client.HTTPConnection(place.hostname or "", place.port)
    for script in built_site.glob("engine/*.js"):
        connection.request("GET", f"{place.path}engine/{script.name}")
        answer = connection.getresponse()
        answer.read()
        assert answer.headers["Content-Security-Policy"] == SECURITY_HEADERS["Content-Security-Policy"]
    connection.close()


def test_policy_allows_neither_outside_nor_written_in_code() -> None:
    """The one relaxation is compiling WebAssembly."""
    policy = SECURITY_HEADERS["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "unsafe-inline" not in policy
    assert "'unsafe-eval'" not in policy
    assert not re.search(r"https?:|\*", policy)


def test_notices_of_the_engines_travel_with_the_site(built_site: Path) -> None:
    """Each engine with its licence, and where its source is."""
    text = (built_site / "notices.txt").read_text(encoding="utf-8")
    for words in ("MicroPython", "Pyodide", "Mozilla Public License Version 2.0", "PYTHON SOFTWARE FOUNDATION LICENSE"):
        assert words in text
