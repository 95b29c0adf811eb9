"""Drawings as a phone shows them: every word large enough, whole, and clear of the others."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from build_tools import figures
from tests.site.conftest import PHONE, Opener

SHEET = 340  # units of a drawing's width, and its pixels on the narrowest phone
LEAST = 11  # pixels: the smallest words

# For each drawing: words smaller than the least, words cut off at its edge, and words that lie on one another.
MEASURE = """least => [...document.querySelectorAll("svg")].map((svg) => {
  const sheet = svg.getBoundingClientRect();
  const words = [...svg.querySelectorAll("text")].filter((one) => one.textContent.trim());
  const boxes = words.map((one) => one.getBoundingClientRect());
  const said = (one) => one.textContent;
  const scale = sheet.width / svg.viewBox.baseVal.width;
  return {
    name: svg.parentElement.id,
    small: words.filter((one) => parseFloat(getComputedStyle(one).fontSize) * scale < least - 0.05).map(said),
    cut: words.filter((one, at) => boxes[at].left < sheet.left || boxes[at].right > sheet.right
      || boxes[at].top < sheet.top || boxes[at].bottom > sheet.bottom).map(said),
    over: words.flatMap((one, at) => words.slice(at + 1).filter((other, next) => {
      const a = boxes[at], b = boxes[at + 1 + next];
      return Math.min(a.right, b.right) - Math.max(a.left, b.left) > 1
        && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 3;
    }).map((other) => `${said(one)} / ${said(other)}`)),
  };
})"""


@pytest.fixture(scope="module")
def sheets(chromium: Browser) -> list[dict[str, Any]]:
    """Measure every drawing, each on a sheet as wide as a phone gives it."""
    page = chromium.new_page(viewport=PHONE)  # type: ignore[arg-type]
    drawn = "".join(f'<div id="{name}">{figures.draw(name, name)}</div>' for name in figures.names())
    page.set_content(f'<body style="margin:0;width:{SHEET}px;font-family:sans-serif">{drawn}')
    found: list[dict[str, Any]] = page.evaluate(MEASURE, LEAST)
    page.close()
    return found


@pytest.mark.parametrize("fault", ["small", "cut", "over"])
def test_words_of_drawings_are_large_whole_and_clear(sheets: list[dict[str, Any]], fault: str) -> None:
    assert len(sheets) == len(figures.names())
    assert {one["name"]: one[fault] for one in sheets if one[fault]} == {}


@pytest.mark.parametrize("place", ["examination/apex-beat.html", "examination/blood-pressure.html"])
def test_a_sheet_keeps_its_size_on_the_narrowest_phone(open_page: Opener, address: str, place: str) -> None:
    """In running text and inside a list alike, and without making the page wider than the screen."""
    page: Page = open_page(address + place)
    drawing = page.locator("figure.figure svg.drawing").first
    box = drawing.bounding_box()
    assert box and box["width"] == pytest.approx(SHEET, abs=0.5)
    assert box["x"] >= 0 and box["x"] + box["width"] <= PHONE["width"]
    expect(drawing).to_have_attribute("role", "img")
    assert page.evaluate("document.documentElement.scrollWidth") == PHONE["width"]


LOOK = """() => [...document.querySelectorAll("figure.figure svg *")].map((part) => {
  const look = getComputedStyle(part);
  return [part.tagName, look.fill, look.stroke, look.strokeWidth, look.fontSize].join(" ");
})"""
WITHOUT_CALCULATORS = """() => document.querySelectorAll("link[href*='engine/calculator.']").forEach((link) => {
  link.disabled = true;
})"""


@pytest.mark.parametrize("place", ["venous-pressure", "leg-pressure", "blood-pressure-readings"])
def test_a_drawing_beside_a_calculator_looks_as_it_does_elsewhere(open_page: Opener, address: str, place: str) -> None:
    """The style of what a calculator draws itself must not reach the handbook's drawings."""
    page: Page = open_page(f"{address}calculators/{place}.html")
    beside = page.evaluate(LOOK)
    page.evaluate(WITHOUT_CALCULATORS)
    assert beside and beside == page.evaluate(LOOK)
