"""The body map: every part leads to its region, and the list holds the same links as the drawing."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from build_tools import body_map, handbook

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def book() -> handbook.Handbook:
    return handbook.load(ROOT, unread_ok=True)


def test_the_list_holds_every_link_of_the_drawing(book: handbook.Handbook) -> None:
    drawing, _, listed = body_map.map_html(book).partition("</svg>")
    parts = set(re.findall(r'href="([^"]+)"', drawing))
    links = re.findall(r'href="([^"]+)"', listed)
    assert parts <= set(links) and len(links) == len(set(links)) == len(body_map.REGIONS)
    assert 'aria-hidden="true"' in drawing and drawing.count("<a ") == drawing.count('tabindex="-1"')


def test_every_region_with_a_step_at_the_body_stands_on_the_page(book: handbook.Handbook) -> None:
    page = body_map.regions_html(book)
    elsewhere = {"preparing", "closing", "putting-together", "variations"}
    for step in book.of_kind("step"):
        if step.meta["region"] not in elsewhere:
            assert page.count(f'href="examination/{step.slug}.html"') == 1, step.slug
            for finding in step.listed("findings"):
                assert f'href="findings/{finding}.html"' in page
    for region in body_map.REGIONS:
        assert page.count(f'id="region-{region}"') == 1


def test_parts_that_a_thumb_would_miss_have_an_unseen_rim(book: handbook.Handbook) -> None:
    drawing = body_map.map_html(book).partition("</svg>")[0]
    for part in drawing.split("<a ")[1:]:
        region = re.search(r"#region-(\w+)", part)
        assert region and ("body-rim" in part) == (region[1] in body_map.SMALL)


def test_the_home_page_stays_small(book: handbook.Handbook) -> None:
    """It leads to the regions instead of holding them, so it does not grow with the number of pages."""
    assert len(body_map.map_html(book)) < 8000
