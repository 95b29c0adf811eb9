"""What is kept on a device: whole versions only, told truly, and nothing lost when anything goes wrong."""

from __future__ import annotations

import json
import re
import shutil
import socket
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, Playwright, expect

from build_tools import offline
from build_tools.placing import SERVER_FILES, files_of
from build_tools.server import SiteServer, in_background
from tests.site.calculators import PRESSURE, calculator, enter, expect_agreement, number
from tests.site.conftest import ARGUMENTS, PHONE, SUB_PATH, Opener, chromium_path

# Each needs a site of its own and waits for a worker.
pytestmark = pytest.mark.slow

KEEP = "about/offline.html"
GOOD = {"systolic_mmhg": "120", "diastolic_mmhg": "80"}
CACHES = "() => caches.keys().then((names) => names.sort())"
REGISTRATIONS = "(await navigator.serviceWorker.getRegistrations()).length"


class Server(SiteServer):
    """Knows its connections, so that it can really be stopped."""

    allow_reuse_address = True

    def __init__(self, *arguments: Any, **named: Any) -> None:
        self.connections: list[socket.socket] = []
        super().__init__(*arguments, **named)

    def process_request(self, request: Any, client_address: Any) -> None:
        self.connections.append(request)
        super().process_request(request, client_address)


class Place:
    """A copy of the site on a server that can be stopped, started again, and given another version."""

    def __init__(self, site: Path) -> None:
        self.site = site
        self.port = 0
        self.address = ""

    def start(self) -> None:
        self._server = Server(self.site, port=self.port, prefix=SUB_PATH)
        self.port, self.address = self._server.server_port, self._server.address
        self._context = in_background(self._server)
        self._context.__enter__()

    def stop(self) -> None:
        self._context.__exit__(None, None, None)
        # A connection that stays open would be answered still.
        for connection in self._server.connections:
            with suppress(OSError):
                connection.shutdown(socket.SHUT_RDWR)

    def change(self, words: str) -> None:
        """Deploy another version: other words on the front page, and the list that belongs to them."""
        page = self.site / "index.html"
        page.write_text(re.sub(r"(</h1>)", rf"\1<p>{words}</p>", page.read_text(encoding="utf-8"), count=1),
                        encoding="utf-8")
        offline.write(self.site)


@pytest.fixture(scope="module")
def chromium(browsers: Playwright) -> Iterator[Browser]:
    """A browser of its own: in one that had opened thousands of pages, a change of version once did not come about."""
    browser = browsers.chromium.launch(executable_path=chromium_path(), args=ARGUMENTS)
    yield browser
    browser.close()


@pytest.fixture
def place(built_site: Path, tmp_path: Path) -> Iterator[Place]:
    made = Place(shutil.copytree(built_site, tmp_path / "site", ignore=shutil.ignore_patterns("*.gz")))
    made.start()
    yield made
    made.stop()


@pytest.fixture
def visit(open_page: Opener) -> Callable[..., Page]:
    """Open a page that may keep things. What fails for want of a server is part of these tests."""
    return lambda address, **options: open_page(address, faults=True, service_workers="allow", **options)


def told(page: Page, words: str) -> None:
    expect(page.locator("[data-offline-told]")).to_contain_text(words, timeout=60_000)


def first_visit(page: Page, place: Place) -> None:
    """Stay until the pages are kept."""
    page.goto(place.address + KEEP)
    told(page, "All pages and the first calculation engine are kept")


def test_after_one_visit_everything_is_read_searched_and_calculated_without_a_server(
    place: Place, visit: Callable[..., Page]
) -> None:
    """The visit was to one page; the others were kept with it. The second engine is said to be missing."""
    page = visit(place.address + KEEP)
    first_visit(page, place)
    place.stop()
    page.goto(place.address)
    expect(page.locator("h1")).to_be_visible()
    page.locator("[data-search-input]").first.fill("jugular")
    page.locator("[data-search-results] a").first.click()
    expect(page.locator("h1")).to_be_visible()
    page.goto(place.address + PRESSURE + "?from=home#content")
    form = calculator(page)
    enter(form, GOOD)
    expect(number(form, "one_third")).to_have_text("93", timeout=30_000)
    expect(form.locator(".calculator-engine")).to_contain_text("Not checked by a second engine", timeout=30_000)
    page.goto(place.address + "nowhere.html")
    expect(page.locator("body")).to_contain_text("not kept on this device")
    page.goto(place.address + KEEP)
    told(page, "The second engine, which checks the first, is not")
    place.start()


def test_the_whole_handbook_is_kept_when_asked_for(place: Place, visit: Callable[..., Page]) -> None:
    """With its size; then both engines agree without a server, and the proof can be made."""
    page = visit(place.address + KEEP)
    first_visit(page, place)
    told(page, " MB more")
    page.get_by_role("button", name="Keep the whole handbook").click()
    told(page, "The whole handbook is kept on this device")
    expect(page.get_by_role("button", name="Keep the whole handbook")).to_be_hidden()
    place.stop()
    page.goto(place.address + PRESSURE)
    form = calculator(page)
    enter(form, GOOD)
    expect_agreement(form)
    place.start()
    # The next version is kept as a whole too, and only what has changed is fetched.
    place.change("Another version.")
    page.goto(place.address + KEEP)
    expect(page.locator(".new-version")).to_be_visible(timeout=60_000)
    page.get_by_role("button", name="Use it now").click()
    told(page, "The whole handbook is kept on this device")


def test_a_new_version_waits_until_it_is_asked_for(place: Place, visit: Callable[..., Page]) -> None:
    """It is not offered while a form holds values; afterwards the old version and nothing else is gone."""
    page = visit(place.address + KEEP)
    first_visit(page, place)
    page.evaluate("() => caches.open('of another site')")
    [of_another, old] = page.evaluate(CACHES)
    place.change("Another version.")
    page.goto(place.address + PRESSURE)
    form = calculator(page)
    enter(form, GOOD)
    expect(page.locator(".new-version")).to_have_count(1, timeout=60_000)
    expect(page.locator(".new-version")).to_be_hidden()
    page.goto(place.address)
    expect(page.get_by_text("Another version.")).to_have_count(0)
    page.goto(place.address + PRESSURE)
    expect(page.locator(".new-version")).to_be_visible(timeout=60_000)
    enter(calculator(page), GOOD)
    expect(page.locator(".new-version")).to_be_hidden()
    calculator(page).locator("form").evaluate("(form) => form.reset()")
    page.get_by_role("button", name="Use it now").click()
    expect(page.locator(".new-version")).to_have_count(0, timeout=60_000)
    page.goto(place.address)
    expect(page.get_by_text("Another version.")).to_be_visible()
    page.goto(place.address + KEEP)
    told(page, "are kept on this device")
    kept = page.evaluate(CACHES)
    assert len(kept) == 2 and of_another in kept and old not in kept


def test_another_open_page_goes_on_with_the_version_it_has(place: Place, visit: Callable[..., Page]) -> None:
    """A page that holds values is not loaded anew when another one changes over, and still finds its own files."""
    page = visit(place.address + KEEP)
    first_visit(page, place)
    working = page.context.new_page()
    working.goto(place.address + PRESSURE)
    enter(calculator(working), GOOD)
    expect(number(calculator(working), "one_third")).to_have_text("93", timeout=30_000)
    # In the new version the first engine has another name, and the old one is gone from the server.
    [script] = place.site.glob("engine/micropython.*.js")
    renamed = script.with_name("micropython.0123456789abcdef.js")
    script.rename(renamed)
    for name in (place.site / "calculators").glob("*.html"):
        name.write_text(name.read_text(encoding="utf-8").replace(script.name, renamed.name), encoding="utf-8")
    place.change("Another version.")
    page.goto(place.address)
    page.get_by_role("button", name="Use it now").click(timeout=60_000)
    expect(page.get_by_text("Another version.")).to_be_visible(timeout=30_000)
    expect(number(calculator(working), "one_third")).to_have_text("93")
    found = working.evaluate("(name) => fetch('../engine/' + name).then((answer) => answer.status)", script.name)
    assert found == 200


@pytest.mark.parametrize("fault", ["altered", "missing"])
def test_a_half_copied_version_leaves_the_old_one_whole(
    fault: str, place: Place, visit: Callable[..., Page]
) -> None:
    """The list is there, a file of it is not or is another one: nothing of it is kept."""
    page = visit(place.address + KEEP)
    first_visit(page, place)
    before = page.evaluate(CACHES)
    place.change("Another version.")
    front = place.site / "index.html"
    if fault == "missing":
        front.unlink()
        told_words = "the server answered 404 for index.html"
    else:
        front.write_text("half a pa", encoding="utf-8")
        told_words = "the file index.html on the server belongs to another version"
    page.goto(place.address + KEEP)
    told(page, told_words)
    page.wait_for_timeout(1000)
    assert page.evaluate(CACHES) == before
    page.goto(place.address + "findings/index.html")
    expect(page.locator("h1")).to_be_visible()
    expect(page.locator(".new-version")).to_have_count(0)
    place.stop()
    page.goto(place.address)
    expect(page.locator("h1")).to_be_visible()
    place.start()


def test_the_kill_switch_takes_everything_back(place: Place, visit: Callable[..., Page]) -> None:
    """Put in the worker's place, it empties the caches, and pages come from the server again."""
    page = visit(place.address + KEEP)
    first_visit(page, place)
    shutil.copy(place.site / offline.OFF, place.site / offline.WORKER)
    page.goto(place.address)
    left = f"async () => (await caches.keys()).length + {REGISTRATIONS}"
    for _ in range(60):
        if page.evaluate(left) == 0:
            break
        page.wait_for_timeout(500)
    front = place.site / "index.html"
    front.write_text("<!doctype html><title>x</title><h1>From the server</h1>", encoding="utf-8")
    page.goto(place.address)
    expect(page.locator("h1")).to_have_text("From the server")


def test_a_device_without_room_says_so_and_works(place: Place, visit: Callable[..., Page]) -> None:
    """Nothing half-kept stays behind."""
    page = visit("about:blank")
    session = page.context.new_cdp_session(page)
    origin = place.address.removesuffix(SUB_PATH)
    session.send("Storage.overrideQuotaForOrigin", {"origin": origin, "quotaSize": 200_000})
    page.goto(place.address + KEEP)
    told(page, "there is not enough free storage on this device")
    page.wait_for_timeout(500)
    assert page.evaluate(CACHES) == []
    page.goto(place.address + PRESSURE)
    enter(calculator(page), GOOD)
    expect(number(calculator(page), "one_third")).to_have_text("93", timeout=30_000)


def test_a_browser_that_refuses_is_named_as_the_reason(place: Place, visit: Callable[..., Page]) -> None:
    """As private windows do: no workers at all, or every start refused."""
    page = visit(place.address + KEEP, script="""
      ServiceWorkerContainer.prototype.register = () => Promise.reject(new DOMException("The operation is insecure."));
    """)
    told(page, "the browser refused (The operation is insecure.)")
    page = visit(place.address + KEEP, script="delete Navigator.prototype.serviceWorker;")
    told(page, "this browser, or its private window, does not let pages keep anything")


def test_a_reader_who_saves_data_keeps_nothing_unasked(place: Place, visit: Callable[..., Page]) -> None:
    """Only the page about keeping begins it."""
    saving = "Object.defineProperty(Navigator.prototype, 'connection', { value: { saveData: true } });"
    page = visit(place.address, script=saving)
    page.wait_for_timeout(2500)
    assert page.evaluate(f"async () => {REGISTRATIONS}") == 0


@pytest.fixture(scope="module")
def intranet(browsers: Playwright) -> Iterator[Browser]:
    """A browser for which the local server has a plain name, as in a hospital, so that it does not count as safe."""
    arguments = [*ARGUMENTS[:-1], "--host-resolver-rules=MAP handbook.test 127.0.0.1, MAP * ~NOTFOUND"]
    browser = browsers.chromium.launch(executable_path=chromium_path(), args=arguments)
    yield browser
    browser.close()


def test_on_plain_http_all_else_works_and_the_page_says_why(place: Place, intranet: Browser) -> None:
    page = intranet.new_page(viewport=PHONE)
    place_by_name = place.address.replace("127.0.0.1", "handbook.test")
    page.goto(place_by_name + KEEP)
    told(page, "browsers keep pages only from an address that begins with https")
    page.goto(place_by_name + PRESSURE)
    enter(calculator(page), GOOD)
    expect_agreement(calculator(page))


def test_the_list_holds_every_file_and_the_manifest_what_installing_needs(built_site: Path) -> None:
    worker = (built_site / offline.WORKER).read_text(encoding="utf-8")
    block = re.search(r"const LIST = (\{.*\});", worker)
    assert block
    listed = json.loads(block.group(1))
    names = {row[0] for row in (*listed["first"], *listed["rest"])}
    there = {name for name in files_of(built_site) if not name.endswith(".gz") and not name.startswith(SERVER_FILES)}
    assert names == there - {offline.WORKER, offline.OFF}
    assert not [row for row in listed["first"] if "pyodide" in row[0] or "python-library" in row[0]]
    manifest = json.loads((built_site / offline.MANIFEST).read_text(encoding="utf-8"))
    assert manifest["display"] == "standalone"
    assert {icon["sizes"] for icon in manifest["icons"]} >= {"192x192", "512x512"}
    for name in (manifest["start_url"], *(icon["src"] for icon in manifest["icons"])):
        assert not name.startswith("/")
        assert (built_site / name).is_file()
