"""The look: what must be seen without scrolling, what must be big enough to touch, and nothing that is not ours."""

from __future__ import annotations

import re
from pathlib import Path

import material
import pytest
from playwright.sync_api import Locator, Page

from tests.site.conftest import Opener

STEPS = "examination"
FOOT = "For teaching and reference. Your local protocol and licensed practice come first."
# Every colour that is painted, but for those of the tokens, the icon and nothing at all.
STRANGE_COLOURS = """() => {
  const probe = document.createElement('span');
  document.body.append(probe);
  const shown = (colour) => { probe.style.color = colour; return getComputedStyle(probe).color; };
  const style = getComputedStyle(document.documentElement);
  const names = [...document.styleSheets].flatMap(sheet => [...sheet.cssRules])
    .filter(rule => rule.selectorText === ':root').flatMap(rule => [...rule.style])
    .filter(name => name.startsWith('--pr-'));
  const own = new Set([...names.map(name => shown(style.getPropertyValue(name))), shown('#5b2a8c'), shown('#e3c27a'),
    shown('#3d2a08'), shown('#fff'), 'rgba(0, 0, 0, 0)']);
  const found = new Set();
  for (const one of document.querySelectorAll('body *')) {
    if (!one.checkVisibility({ opacityProperty: true }) || one === probe) continue;
    const drawn = getComputedStyle(one);
    const painted = [drawn.color, drawn.backgroundColor];
    for (const side of ['Top', 'Right', 'Bottom', 'Left']) {
      if (drawn['border' + side + 'Width'] !== '0px' && drawn['border' + side + 'Style'] !== 'none') {
        painted.push(drawn['border' + side + 'Color']);
      }
    }
    if (one instanceof SVGElement) painted.push(...[drawn.fill, drawn.stroke].filter(paint => paint.startsWith('rgb')));
    for (const colour of painted) {
      if (!own.has(colour) && !(one instanceof SVGElement && colour === 'rgb(0, 0, 0)')) {
        found.add(colour + ' ' + one.tagName + '.' + one.getAttribute('class'));
      }
    }
  }
  return [...found].slice(0, 10);
}"""
KINDS = {
    "home": "index.html",
    "steps": "examination/index.html",
    "running order": "examination/running-order.html",
    "step": "examination/blood-pressure.html",
    "findings": "findings/index.html",
    "finding": "findings/collapsing-pulse.html",
    "conditions": "conditions/index.html",
    "condition": "conditions/aortic-dissection.html",
    "calculators": "calculators/index.html",
    "calculator": "calculators/leg-pressure.html",
    "values": "values/index.html",
    "article": "about/index.html",
    "waves": "learning/wave-laboratory.html",
}


def pages(site: Path) -> list[str]:
    return sorted(path.relative_to(site).as_posix() for path in site.rglob("*.html"))


def bottom(place: Locator) -> float:
    box = place.bounding_box()
    assert box is not None, f"{place} is not on the page"
    return box["y"] + box["height"]


def thumb_bar_top(page: Page) -> float:
    box = page.locator(".thumb-bar").bounding_box()
    assert box is not None
    return box["y"]


def test_home_shows_search_and_its_three_entries_unscrolled(open_page: Opener, address: str) -> None:
    page = open_page(f"{address}index.html")
    entries = page.locator(".home article > ul > li")
    assert [entry.locator("a").inner_text() for entry in entries.all()] == [
        "Examine, in order", "Look up a value", "Calculate",
    ]
    assert page.is_visible("#search-here")
    assert max(bottom(entry) for entry in entries.all()) <= thumb_bar_top(page)


@pytest.mark.slow
def test_the_first_screen_of_every_step_answers(open_page: Opener, address: str, built_site: Path) -> None:
    """Do, normal and stop stand above the thumb bar."""
    late = {}
    page = open_page(f"{address}index.html")
    for step in sorted((built_site / STEPS).glob("*.html")):
        if step.name in ("index.html", "running-order.html"):
            continue
        page.goto(f"{address}{STEPS}/{step.name}")
        rows = [page.locator(f".summary > .{part}") for part in ("do", "normal", "stop")]
        if max(map(bottom, rows)) > thumb_bar_top(page):
            late[step.name] = round(max(map(bottom, rows)) - thumb_bar_top(page))
    assert not late


@pytest.mark.slow
@pytest.mark.parametrize("width", [360, 412, 1280])
def test_no_page_is_wider_than_its_screen(open_page: Opener, address: str, built_site: Path, width: int) -> None:
    page = open_page(f"{address}index.html", viewport={"width": width, "height": 800})
    wide = {}
    for name in pages(built_site):
        page.goto(address + name)
        found = page.evaluate("document.documentElement.scrollWidth")
        if found > width:
            wide[name] = found
    assert not wide


@pytest.mark.parametrize("name", KINDS.values(), ids=KINDS.keys())
def test_controls_are_big_enough_for_a_thumb(open_page: Opener, address: str, name: str) -> None:
    """44 px for what stands alone; links within sentences and numbers of sources keep the size of their text."""
    page = open_page(address + name)
    small = page.evaluate(
        """[...document.querySelectorAll('button, .thumb-bar a, .on-this-page a, .turn a, .entries > li, .steps > li, '
          + '.home article > ul > li, .choices label, .search-row, .foot a, .brand, .value-links a')]
          .filter(one => one.checkVisibility({ contentVisibilityAuto: true }))
          .map(one => [one.outerHTML.slice(0, 80), one.getBoundingClientRect()])
          .filter(([, box]) => box.height < 43.5 || box.width < 24).map(([words, box]) => words + ' ' + box.height)"""
    )
    assert not small


def test_colours_follow_the_device_until_the_reader_chooses(open_page: Opener, address: str) -> None:
    page = open_page(f"{address}index.html", color_scheme="dark")
    ground = "getComputedStyle(document.documentElement).backgroundColor"
    dark = page.evaluate(ground)
    page.emulate_media(color_scheme="light")
    light = page.evaluate(ground)
    assert dark != light
    button = page.locator("[data-scheme-button]")
    button.click()
    page.emulate_media(color_scheme="dark")
    assert page.evaluate(ground) == light
    button.click()
    assert page.evaluate(ground) == dark
    page.goto(f"{address}findings/index.html")
    page.emulate_media(color_scheme="light")
    assert page.evaluate(ground) == dark, "the choice must hold on the next page"
    button.click()
    assert page.evaluate(ground) == light


def test_the_skip_link_comes_first_and_the_page_can_be_walked_by_key(open_page: Opener, address: str) -> None:
    page = open_page(f"{address}examination/blood-pressure.html")
    page.keyboard.press("Tab")
    assert "md-skip" in page.evaluate("document.activeElement.className")
    assert page.evaluate("document.activeElement.getBoundingClientRect().top") >= 0
    page.keyboard.press("Enter")
    assert "#" in page.url
    for _ in range(12):
        page.keyboard.press("Tab")
        seen = page.evaluate(
            "(() => { const box = document.activeElement.getBoundingClientRect();"
            " const style = getComputedStyle(document.activeElement);"
            " return [box.bottom > 0 && box.top < innerHeight, style.outlineStyle !== 'none'"
            " || !!document.activeElement.closest('.search-row')]; })()"
        )
        assert seen == [True, True], page.evaluate("document.activeElement.outerHTML")


def test_no_single_key_leaves_the_page(open_page: Opener, address: str) -> None:
    """Whoever speaks to the device, or slips, must not lose what they read or typed (WCAG 2.1.4)."""
    page = open_page(f"{address}examination/blood-pressure.html")
    for key in "npfs/.,":
        page.keyboard.press(key)
    page.wait_for_timeout(300)
    assert page.url == f"{address}examination/blood-pressure.html"
    assert not page.is_visible("#search-everywhere")


def test_each_page_says_once_what_it_is_for_and_which_version_it_is(built_site: Path) -> None:
    for name in pages(built_site):
        text = (built_site / name).read_text(encoding="utf-8")
        assert text.count(FOOT) == 1, name
        assert re.search(r"Pulse & Ruler \d+\.\d+\.\d+, built <time", text.replace("&amp;", "&")), name
        assert "Not locally approved." in text, name


def test_no_style_and_no_code_stands_inside_a_page(built_site: Path) -> None:
    for name in pages(built_site):
        text = (built_site / name).read_text(encoding="utf-8")
        assert not re.search(r"<style|\sstyle=|\son[a-z]+=\"|javascript:", text), name
        for attributes, code in re.findall(r"<script([^>]*)>(.*?)</script>", text, re.DOTALL):
            assert not code.strip() or 'type="application/json"' in attributes, name


def test_no_stock_file_or_icon_is_left(built_site: Path) -> None:
    """The theme under the handbook brings its frame and script, never its pictures, palettes or icons."""
    names = " ".join(path.name for path in built_site.rglob("*"))
    assert not re.search(r"palette\.|favicon|logo|\.map\b|material", names)
    stock = {
        re.sub(r"\s+", "", drawn)
        for path in (Path(material.__file__).parent / "templates" / ".icons" / "material").glob("*.svg")
        for drawn in re.findall(r' d="([^"]+)"', path.read_text(encoding="utf-8"))
    }
    for name in pages(built_site):
        text = (built_site / name).read_text(encoding="utf-8")
        drawn = {re.sub(r"\s+", "", way) for way in re.findall(r' d="([^"]+)"', text)}
        assert not drawn & stock, name
        assert "Made with" not in text, name


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_colour_on_every_kind_of_page_is_the_handbooks_own(open_page: Opener, address: str, scheme: str) -> None:
    page = open_page(f"{address}index.html", color_scheme=scheme)
    strange = {}
    for kind, name in KINDS.items():
        page.goto(address + name)
        if found := page.evaluate(STRANGE_COLOURS):
            strange[kind] = found
    assert not strange


def test_wide_tables_become_cards_on_a_phone_and_tables_on_a_wide_screen(open_page: Opener, address: str) -> None:
    page = open_page(f"{address}conditions/aortic-dissection.html")
    cell = "getComputedStyle(document.querySelector('table.signs td')).display"
    label = "getComputedStyle(document.querySelector('table.signs td'), '::before').content"
    assert page.evaluate(cell) == "block" and page.evaluate(label) != "none"
    page.set_viewport_size({"width": 1280, "height": 800})
    assert page.evaluate(cell) == "table-cell" and page.evaluate(label) == "none"


def test_print_keeps_text_sources_version_and_date_and_nothing_to_touch(open_page: Opener, address: str) -> None:
    page = open_page(f"{address}calculators/pressure.html", color_scheme="dark")
    page.emulate_media(media="print")
    for gone in (".thumb-bar", ".top-links", ".on-this-page", ".foot ul", ".scheme-button"):
        assert not page.locator(gone).first.is_visible(), gone
    for kept in (".foot-version", ".foot-words", ".references", "h1"):
        assert page.locator(kept).first.is_visible(), kept
    assert page.evaluate("getComputedStyle(document.documentElement).backgroundColor") == "rgb(255, 255, 255)"
    assert page.evaluate("getComputedStyle(document.querySelector('h1')).color") == "rgb(0, 0, 0)"
