"""The wave laboratory in the page: it runs, stops, goes beat by beat, slows down, and says what it shows."""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path

import pytest
from playwright.sync_api import Locator, Page, Route, expect

from tests.site.conftest import Opener

pytestmark = pytest.mark.slow

PAGE = "learning/wave-laboratory.html"
# Notes each line that the screen draws: when, and where across it.
WATCH = """
window.lines = [];
const fill = CanvasRenderingContext2D.prototype.fillRect;
CanvasRenderingContext2D.prototype.fillRect = function (x, y, wide, tall) {
  if (wide === 2) lines.push([performance.now(), x]);
  return fill.call(this, x, y, wide, tall);
};
"""
LANES = 4


@pytest.fixture
def laboratory(open_page: Opener, address: str) -> Page:
    """The page with its traces running."""
    page = open_page(address + PAGE, script=WATCH)
    until_drawn(page)
    return page


def until_drawn(page: Page) -> None:
    expect(page.locator("#wave-told li")).to_have_count(LANES)


def act(page: Page, name: str) -> Locator:
    return page.locator(f"[data-act={name}]")


def choose(page: Page, name: str, label: str) -> None:
    page.get_by_label(name, exact=True).select_option(label=label)


def told(page: Page) -> str:
    return page.locator(".wave-beat").inner_text()


def places(page: Page) -> list[float]:
    """Where the line stood in each painting since the last look; each lane has a piece of it."""
    found: list[list[float]] = page.evaluate("lines.splice(0)")
    return [x for _, x in found[::LANES]]


def speed(page: Page) -> float:
    """How fast the line runs, in pixels a second."""
    page.evaluate("lines.length = 0")
    page.wait_for_timeout(1500)
    found: list[list[float]] = page.evaluate("lines.splice(0)")
    # Not where it goes back to the left.
    steps = [(x1 - x0, t1 - t0) for (t0, x0), (t1, x1) in pairwise(found[::LANES]) if x1 >= x0]
    return 1000 * sum(far for far, _ in steps) / sum(long for _, long in steps)


def seen(page: Page) -> list[str]:
    """Which parts of what to look for are in sight."""
    return [heading.inner_text() for heading in page.locator("article h3").all() if heading.is_visible()]


def test_it_runs_by_itself_and_stops_and_goes_on(laboratory: Page) -> None:
    assert speed(laboratory) > 0
    act(laboratory, "run").click()
    expect(act(laboratory, "run")).to_have_text("Run")
    laboratory.wait_for_timeout(100)
    places(laboratory)
    laboratory.wait_for_timeout(400)
    assert places(laboratory) == []
    assert re.search(r"s after the last.*Pulse \d+/80 mmHg", told(laboratory))
    act(laboratory, "run").click()
    expect(act(laboratory, "run")).to_have_text("Pause")
    assert speed(laboratory) > 0


def test_it_slows_down(laboratory: Page) -> None:
    full = speed(laboratory)
    assert full == pytest.approx(110, rel=0.25)
    act(laboratory, "speed").select_option(label="¼ speed")
    assert speed(laboratory) / full == pytest.approx(0.25, abs=0.1)


def test_it_goes_beat_by_beat_and_reads_each_out(laboratory: Page) -> None:
    choose(laboratory, "Condition", "Left ventricular failure")
    until_drawn(laboratory)
    pressures = []
    for _ in range(5):
        before = told(laboratory)
        act(laboratory, "step").click()
        expect(laboratory.locator(".wave-beat")).not_to_have_text(before)
        pressures.append(int(re.findall(r"Pulse (\d+)/", told(laboratory))[0]))
    strong = [b > a for a, b in pairwise(pressures)]
    assert strong in ([True, False] * 2, [False, True] * 2), "strong and weak in turn"
    assert act(laboratory, "run").inner_text() == "Run", "who steps has stopped it"
    assert laboratory.locator(".wave-beat").get_attribute("aria-live") == "polite"


def test_what_is_chosen_is_told_and_what_to_look_for_with_it(laboratory: Page) -> None:
    assert seen(laboratory) == ["Healthy heart"]
    choose(laboratory, "Condition", "Tricuspid regurgitation")
    expect(laboratory.locator("#wave-told")).to_contain_text("Neck veins: one swell through systole")
    assert seen(laboratory) == ["Tricuspid regurgitation"]
    choose(laboratory, "Rhythm", "Atrial fibrillation")
    expect(laboratory.locator("#wave-told")).to_contain_text("ECG: no P waves")
    assert seen(laboratory) == ["Tricuspid regurgitation", "Atrial fibrillation"]
    choose(laboratory, "Breathing", "Held out")
    expect(laboratory.locator("#wave-told")).to_contain_text("The breath is held")


def test_the_rates_are_those_of_the_rhythm(laboratory: Page) -> None:
    rate = laboratory.get_by_label("Rate")
    assert [rate.get_attribute(end) for end in ("min", "max")] == ["40", "140"]
    choose(laboratory, "Rhythm", "Complete heart block")
    assert [rate.get_attribute(end) for end in ("min", "max")] == ["30", "60"]
    expect(laboratory.locator(".wave-rate output")).to_have_text("40 a minute")
    expect(laboratory.locator("#wave-told")).to_contain_text("40 beats a minute")
    rate.focus()
    laboratory.keyboard.press("ArrowRight")
    expect(laboratory.locator(".wave-rate output")).to_have_text("45 a minute")
    expect(laboratory.locator("#wave-told")).to_contain_text("45 beats a minute")
    choose(laboratory, "Condition", "Tamponade")
    assert 30 <= int(rate.input_value()) <= 60, "a usual rate of a condition yields to the rhythm"


def test_stepping_through_block_meets_a_cannon_wave(laboratory: Page) -> None:
    choose(laboratory, "Rhythm", "Complete heart block")
    expect(laboratory.locator("#wave-told")).to_contain_text("P waves march on")
    found = []
    for _ in range(6):
        before = told(laboratory)
        act(laboratory, "step").click()
        expect(laboratory.locator(".wave-beat")).not_to_have_text(before)
        found.append("Cannon a wave" in told(laboratory))
    assert True in found and False in found


def test_the_keyboard_reaches_and_works_everything(laboratory: Page) -> None:
    laboratory.get_by_label("Condition").focus()
    order = []
    for _ in range(8):
        order.append(laboratory.evaluate("document.activeElement.dataset.choice || document.activeElement.dataset.act"))
        laboratory.keyboard.press("Tab")
    assert order[:8] == ["condition", "rhythm", "breathing", "run", "step", "speed", "closer", "rate"]
    act(laboratory, "run").focus()
    laboratory.keyboard.press("Enter")
    expect(act(laboratory, "run")).to_have_text("Run")
    act(laboratory, "closer").focus()
    laboratory.keyboard.press("Space")
    expect(act(laboratory, "closer")).to_have_attribute("aria-pressed", "true")


def test_one_screen_of_a_phone_holds_the_traces_and_what_runs_them(laboratory: Page) -> None:
    laboratory.evaluate("document.querySelector('.wave-choices').scrollIntoView()")
    laboratory.wait_for_timeout(200)
    covered = laboratory.evaluate("""() => {
      const reached = (part) => {
        const box = part.getBoundingClientRect();
        return [[box.left + 5, box.top + 4], [box.right - 5, box.bottom - 4]].every(([x, y]) => {
          const top = document.elementFromPoint(x, y);
          return top && (part === top || part.contains(top) || top.contains(part));
        });
      };
      const names = ["canvas", ...["condition", "rhythm", "breathing", "rate"].map((name) => `[data-choice=${name}]`),
        ...["run", "step", "speed", "closer"].map((name) => `[data-act=${name}]`)];
      return names.filter((name) => !reached(document.querySelector(`.wave-live ${name}`)));
    }""")
    assert covered == []
    small = laboratory.evaluate("""() => [...document.querySelectorAll('.wave-live :is(button, select, input)')]
      .filter((part) => part.offsetParent && part.getBoundingClientRect().height < 44).map((part) => part.outerHTML)""")
    assert small == []
    assert laboratory.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_an_address_opens_it_on_a_condition_or_a_rhythm(open_page: Opener, address: str) -> None:
    page = open_page(f"{address}{PAGE}#mitral-stenosis")
    until_drawn(page)
    expect(page.get_by_label("Condition")).to_have_value("mitral-stenosis")
    page.evaluate("location.hash = 'complete-heart-block'")
    expect(page.get_by_label("Rhythm")).to_have_value("block")
    expect(page.locator("#wave-told")).to_contain_text("P waves march on")
    expect(page.locator(".wave-screen")).to_be_in_viewport()
    assert seen(page) == ["Mitral stenosis", "Complete heart block"]


def test_less_motion_means_beat_by_beat_alone(open_page: Opener, address: str) -> None:
    page = open_page(address + PAGE, script=WATCH, reduced_motion="reduce")
    until_drawn(page)
    expect(act(page, "run")).to_be_hidden()
    expect(act(page, "speed")).to_be_hidden()
    expect(page.locator(".wave-calm")).to_contain_text("beat by beat")
    page.wait_for_timeout(300)
    [*_, stood] = places(page)
    page.wait_for_timeout(600)
    assert places(page) == []
    assert stood > 250, "a whole screen stands there from the start"
    act(page, "step").click()
    page.wait_for_timeout(200)
    assert places(page)
    assert "Pulse" in told(page)


def test_while_the_engine_loads_it_says_so(open_page: Opener, address: str) -> None:
    held: list[Route] = []
    page = open_page("about:blank")
    page.route("**/engine/micropython.*.bin", lambda route: held.append(route))
    page.goto(address + PAGE)
    expect(page.locator(".wave-status")).to_contain_text("The calculation engine is coming in")
    assert not page.locator(".wave-still").is_visible()
    while held:
        held.pop().continue_()
    until_drawn(page)
    expect(page.locator(".wave-status")).to_be_hidden()


def test_the_second_engine_takes_the_place_of_the_first(open_page: Opener, address: str) -> None:
    page = open_page("about:blank", faults=True)
    page.route("**/engine/micropython.*.bin", lambda route: route.abort())
    page.goto(address + PAGE)
    page.set_default_timeout(60_000)
    expect(page.locator("#wave-told li")).to_have_count(LANES, timeout=60_000)
    expect(page.locator(".wave-status")).to_be_hidden()


def test_without_any_engine_the_drawing_stands_and_it_can_be_tried_again(open_page: Opener, address: str) -> None:
    page = open_page("about:blank", faults=True)
    page.route("**/engine/*.bin", lambda route: route.abort())
    page.goto(address + PAGE)
    expect(page.locator(".wave-status")).to_contain_text("The traces cannot run now. The file")
    expect(page.locator(".wave-still svg")).to_be_visible()
    page.unroute_all()
    act(page, "again").click()
    until_drawn(page)
    expect(page.locator(".wave-still")).to_be_hidden()


def test_without_scripts_a_drawing_and_all_of_the_text_stand(open_page: Opener, address: str) -> None:
    page = open_page(address + PAGE, java_script_enabled=False)
    expect(page.locator(".wave-still svg")).to_be_visible()
    expect(page.locator(".wave-live")).to_be_hidden()
    assert len(seen(page)) == page.locator("article h3").count() >= 15


def test_each_choice_has_its_part_of_what_to_look_for(open_page: Opener, address: str, built_site: Path) -> None:
    html = (built_site / PAGE).read_text(encoding="utf-8")
    sections = set(re.findall(r'data-section="([^"]+)"', html)) - {"regular", "quiet", "slow-and-deep", "held-out"}
    assert len(sections) == 15
    for section in sections:
        assert f'<h3 id="{section}">' in html, section


def test_the_picture_follows_the_colours_of_the_page(laboratory: Page) -> None:
    act(laboratory, "run").click()
    corner = """() => {
      const canvas = document.querySelector(".wave-screen canvas");
      return [...canvas.getContext("2d").getImageData(2, 2, 1, 1).data].slice(0, 3);
    }"""
    light = laboratory.evaluate(corner)
    laboratory.evaluate("document.documentElement.dataset.scheme = 'night'")
    laboratory.wait_for_timeout(200)
    dark = laboratory.evaluate(corner)
    assert min(light) > 200 and max(dark) < 70
