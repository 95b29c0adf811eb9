"""The listening room in a real browser: silent until touched, never louder than set, gone at once, told in words."""

from __future__ import annotations

import re
from collections.abc import Callable
from time import monotonic

import pytest
from playwright.sync_api import Page, Route, expect

from tests.site.conftest import Opener
from tests.site.test_look_axe import AXE, FAULTS

pytestmark = pytest.mark.slow

ROOM = "learning/listening-room.html"
# What goes to the loudspeaker goes through here too, so that it can be measured.
TAP = """
window.contexts = 0;
const Context = window.AudioContext;
window.AudioContext = class extends Context {
  constructor(...all) {
    super(...all);
    window.contexts += 1;
    window.tap = new AnalyserNode(this, { fftSize: 32768 });
    window.tap.connect(this.destination);
  }
};
const connect = AudioNode.prototype.connect;
AudioNode.prototype.connect = function (target, ...rest) {
  const tapped = target instanceof AudioDestinationNode && this !== window.tap ? window.tap : target;
  return connect.call(this, tapped, ...rest);
};
window.heard = (count) => {
  if (!window.tap) return 0;
  const values = new Float32Array(32768);
  window.tap.getFloatTimeDomainData(values);
  return Math.max(...values.slice(-count).map(Math.abs));
};
"""
LOUDEST = 0.7
HALF_A_SECOND = 24_000
MOMENT = 1_000  # samples; 20 ms


@pytest.fixture
def room(open_page: Opener, address: str) -> Callable[..., Page]:
    def opened(link: str = "", **options: object) -> Page:
        page = open_page(f"{address}{ROOM}{link}", script=TAP, **options)
        page.wait_for_selector('[data-place="A"] .room-caption li')
        return page

    return opened


def wait_for(page: Page, expression: str, seconds: float = 8) -> None:
    """Wait until an expression holds: the page's rules allow no text to be run from within it."""
    until = monotonic() + seconds
    while not page.evaluate(expression):
        assert monotonic() < until, expression
        page.wait_for_timeout(50)


def button(page: Page, name: str) -> None:
    page.get_by_role("button", name=name, exact=True).click()


def status(page: Page) -> str:
    return page.locator(".room-status").inner_text()


def test_silent_until_touched_then_heard_then_silent_at_once(room: Callable[..., Page]) -> None:
    page = room()
    assert page.evaluate("contexts") == 0
    button(page, "Play A")
    wait_for(page, f"heard({HALF_A_SECOND}) > 0.01")
    assert re.fullmatch(r"Playing A: Normal heart sounds\. Synthetic teaching sound\.", status(page))
    page.locator('[name="volume"]').fill("100")
    page.wait_for_timeout(800)
    assert 0.02 < page.evaluate(f"heard({HALF_A_SECOND})") <= LOUDEST
    button(page, "Stop A")
    page.wait_for_timeout(150)
    assert page.evaluate(f"heard({MOMENT})") == 0
    expect(page.get_by_role("button", name="Play A", exact=True)).to_be_visible()


def test_stops_when_the_page_is_hidden_and_by_escape(room: Callable[..., Page]) -> None:
    page = room("#hear-mitral-stenosis")
    button(page, "Play A")
    wait_for(page, f"heard({HALF_A_SECOND}) > 0.01")
    page.evaluate("""() => {
      Object.defineProperty(document, "hidden", { get: () => true, configurable: true });
      document.dispatchEvent(new Event("visibilitychange"));
    }""")
    page.wait_for_timeout(150)
    assert page.evaluate(f"heard({MOMENT})") == 0 and "out of sight" in status(page)
    button(page, "Play A")
    wait_for(page, f"heard({HALF_A_SECOND}) > 0.01")
    page.keyboard.press("Escape")
    page.wait_for_timeout(150)
    assert page.evaluate(f"heard({MOMENT})") == 0 and status(page) == "Stopped."


def test_two_sounds_are_compared_one_at_a_time(room: Callable[..., Page]) -> None:
    page = room()
    expect(page.locator('[data-place="B"]')).to_be_hidden()
    button(page, "Compare with a second sound")
    page.wait_for_selector('[data-place="B"] .room-caption li')
    button(page, "Play A")
    button(page, "Play B")
    assert status(page).startswith("Playing B: Aortic stenosis.")
    expect(page.get_by_role("button", name="Play A", exact=True)).to_be_visible()
    button(page, "Leave only sound A")
    page.wait_for_timeout(150)
    assert page.evaluate(f"heard({MOMENT})") == 0
    expect(page.locator('[data-place="B"]')).to_be_hidden()


def test_words_follow_what_is_chosen_while_it_plays(room: Callable[..., Page]) -> None:
    page = room("#hear-aortic-stenosis")
    place = page.locator('[data-place="A"]')
    caption = place.locator(".room-caption")
    expect(caption).to_contain_text("Aortic stenosis at 72 beats a minute, aortic area, diaphragm.")
    button(page, "Play A")
    place.get_by_label("Breathing or manoeuvre").select_option("strain")
    expect(caption).to_contain_text("Valsalva strain: the murmur is softer than at rest.")
    place.get_by_label("Place on the chest").select_option("axilla")
    place.get_by_label(re.compile("Heart rate")).fill("120")
    expect(caption).to_contain_text("at 120 beats a minute, axilla")
    expect(caption).to_contain_text("From the first to the second sound 244 ms")
    page.get_by_label("Half speed").check()
    expect(caption).to_contain_text("half speed")
    page.get_by_label(re.compile("Pitch 4 times higher")).check()
    expect(caption).to_contain_text("4 times higher than in a chest")
    assert status(page).startswith("Playing A: Aortic stenosis.")
    wait_for(page, f"heard({HALF_A_SECOND}) > 0.005")


def test_trace_runs_along_but_not_for_a_reader_who_wants_no_motion(room: Callable[..., Page]) -> None:
    for motion, runs in (("no-preference", True), ("reduce", False)):
        page = room(reduced_motion=motion)
        button(page, "Play A")
        wait_for(page, f"heard({HALF_A_SECOND}) > 0.01")
        pictures = []
        for _ in range(2):
            pictures.append(page.evaluate("document.querySelector('.room-trace').toDataURL()"))
            page.wait_for_timeout(200)
        assert (pictures[0] != pictures[1]) is runs


def test_finding_leads_to_its_sound(open_page: Opener, address: str) -> None:
    page = open_page(f"{address}findings/continuous-murmur.html")
    page.get_by_role("link", name="Hear it: Patent duct").click()
    expect(page.locator('[data-place="A"] .room-caption')).to_contain_text("Patent duct at 72 beats a minute")
    expect(page.locator(".room-mark")).to_be_in_viewport()


def test_reads_without_scripts(open_page: Opener, address: str) -> None:
    page = open_page(f"{address}{ROOM}#hear-continuous", java_script_enabled=False)
    expect(page.locator("#hear-continuous")).to_be_in_viewport()
    assert "Playing needs the page’s scripts" in page.content()
    assert page.locator(".room-table tbody tr").count() > 15
    expect(page.locator(".room-table")).to_be_visible()
    expect(page.get_by_role("button", name="Play A")).to_be_hidden()


def test_failure_is_told_with_its_cause(open_page: Opener, address: str) -> None:
    page = open_page(address, faults=True)

    def refuse(route: Route) -> None:
        route.fulfill(status=404, body="")

    page.route(re.compile(r"/engine/models"), refuse)
    page.goto(address + ROOM)
    expect(page.locator(".room-status")).to_contain_text("is missing on the server", timeout=30_000)
    page.unroute(re.compile(r"/engine/models"), refuse)
    button(page, "Try again")
    expect(page.locator('[data-place="A"] .room-caption')).to_contain_text("Normal heart sounds", timeout=30_000)


@pytest.mark.parametrize(("width", "scheme"), [(360, "dark"), (1280, "light")])
def test_axe_finds_nothing_in_the_room(open_page: Opener, address: str, width: int, scheme: str) -> None:
    page = open_page(
        address + ROOM, viewport={"width": width, "height": 800}, color_scheme=scheme, bypass_csp=True
    )
    page.get_by_role("button", name="Compare with a second sound").click()
    page.wait_for_selector('[data-place="B"] .room-caption li')
    page.evaluate(AXE.read_text(encoding="utf-8"))
    assert not page.evaluate(FAULTS)
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
