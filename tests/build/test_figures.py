"""The drawings: the angles, heights and proportions that carry meaning are the ones the figure states."""

from __future__ import annotations

import math
import re
from itertools import pairwise
from xml.etree import ElementTree

import pytest

from build_tools import figures
from build_tools.figures import limbs, neck
from build_tools.figures.ruler import Band, nice_ticks, ruler

SVG = "{http://www.w3.org/2000/svg}"


def ends(picture: str, name: str) -> list[tuple[float, float]]:
    """Give the points of the straight path with a class name."""
    for element in ElementTree.fromstring(picture).iter(f"{SVG}path"):
        if name in (element.get("class") or "").split():
            return [(float(x), float(y)) for x, y in re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", element.get("d") or "")]
    raise AssertionError(f"no path of class {name}")


@pytest.mark.parametrize("name", figures.names())
def test_every_figure_is_named_told_in_words_and_the_same_each_time(name: str) -> None:
    drawn = figures.draw(name, "one")
    root = ElementTree.fromstring(drawn)
    words = {child.tag.removeprefix(SVG): child.text for child in root if child.tag in (f"{SVG}title", f"{SVG}desc")}
    assert words["title"] and len(words["desc"] or "") > 60
    assert root.get("aria-labelledby") == "one-title one-description"
    assert drawn == figures.draw(name, "one")
    ids = re.findall(r' id="([^"]+)"', drawn)
    assert all(each.startswith("one-") for each in ids)
    assert not re.search(r"style=|<script|<style|href", drawn)


@pytest.mark.parametrize("angle", [30.0, 45.0, 60.0])
def test_the_trunk_lies_at_the_angle_it_says_and_the_height_is_measured_upright(angle: float) -> None:
    height = {30.0: 0.5, 45.0: 4.0, 60.0: 6.0}[angle]
    drawn = neck.height_at_angle("p", angle, height)
    (x0, y0), (x1, y1) = ends(drawn, "drawn-backrest")
    assert math.degrees(math.atan2(y0 - y1, x1 - x0)) == pytest.approx(angle, abs=0.05)
    (_, top), (_, level) = ends(drawn, "drawn-card")
    assert top == level, "the card must lie level"
    assert neck.ORIGIN[1] - level == pytest.approx(height * neck.SCALE, abs=0.01)
    (left, bottom), (right, up) = ends(drawn, "drawn-height")
    assert left == right, "the height must stand upright"
    assert bottom - up == pytest.approx(height * neck.SCALE, abs=0.01)
    assert f"{angle:g}°" in drawn


def test_the_way_along_the_neck_is_longer_than_the_height() -> None:
    """The figure warns of this, so it must show it."""
    _, (x, y) = ends(neck.height_at_angle("p", 45, 4), "drawn-card")
    along = math.hypot(x - neck.ORIGIN[0], y - neck.ORIGIN[1])
    assert along > 1.5 * 4 * neck.SCALE


def test_a_pulsation_outside_the_neck_is_refused() -> None:
    with pytest.raises(ValueError, match="outside the neck"):
        neck.height_at_angle("p", 45, 20)


def test_the_middle_of_the_cuff_is_level_with_the_heart() -> None:
    drawn = limbs.cuff_at_heart_level("p")
    (_, start), (_, end) = ends(drawn, "drawn-heart-level")
    assert start == end == limbs.HEART[1]
    (_, upper), (_, lower) = ends(drawn, "drawn-cuff-line")
    assert (upper + lower) / 2 == pytest.approx(limbs.HEART[1], abs=0.02)


def test_the_ankle_cuff_ends_two_centimetres_above_the_malleolus() -> None:
    drawn = limbs.ankle_pressures("p")
    (_, lower), (_, top) = ends(drawn, "drawn-gap")
    assert (top - lower) / limbs.FOOT_SCALE == pytest.approx(2.0, abs=0.01)
    assert top == limbs.MALLEOLUS[1] - limbs.MALLEOLUS_RADIUS


def test_the_ruler_places_ticks_bands_and_marker_to_scale() -> None:
    drawn = ruler(0, 2, "", prefix="p", title="t", description="d", bands=[Band("normal", 1, 1.4)], marker=0.5)
    root = ElementTree.fromstring(drawn)
    marker = next(group for group in root.iter(f"{SVG}g") if group.get("class") == "ruler-marker")
    x0, x1 = float(marker.get("data-x0") or 0), float(marker.get("data-x1") or 0)
    assert marker.get("transform") == f"translate({x0 + (x1 - x0) / 4:g} 0)"
    assert marker.get("visibility") is None
    band = next(one for one in root.iter(f"{SVG}rect") if "ruler-band" in (one.get("class") or ""))
    assert float(band.get("x") or 0) == pytest.approx(x0 + (x1 - x0) / 2)
    assert float(band.get("width") or 0) == pytest.approx((x1 - x0) * 0.2)
    texts = [one for one in root.iter(f"{SVG}text") if one.get("class") == "ruler-number"]
    numbers = {one.text: float(one.get("x") or 0) for one in texts}
    assert numbers["1"] == pytest.approx((x0 + x1) / 2)


def test_the_marker_waits_unseen_and_stays_on_the_ruler() -> None:
    assert 'visibility="hidden"' in ruler(0, 10, "s", prefix="p", title="t", description="d")
    assert "translate(326 0)" in ruler(0, 10, "s", prefix="p", title="t", description="d", marker=99)


def test_neighbouring_bands_differ_without_colour_and_long_labels_go_to_a_key() -> None:
    bands = [Band("none", None, 1), Band("a label much too long for its band", 1, 2), Band("high", 2, None)]
    drawn = ruler(0, 10, "s", prefix="p", title="t", description="d", bands=bands)
    assert drawn.count('class="ruler-pattern"') == 2, "the first is plain, the others carry lines"
    texts = ElementTree.fromstring(drawn).iter(f"{SVG}text")
    letters = [one.text for one in texts if one.get("class") == "ruler-letter"]
    assert letters == ["A", "B", "C"]


@pytest.mark.parametrize(("low", "high"), [(0, 1.6), (-10, 30), (30, 180), (0.2, 0.9), (0, 6), (34, 41)])
def test_numbered_marks_are_round_and_few(low: float, high: float) -> None:
    marks = nice_ticks(low, high)
    assert 3 <= len(marks) <= 7
    steps = {round(b - a, 9) for a, b in pairwise(marks)}
    assert len(steps) == 1
    assert f"{steps.pop():.0e}"[0] in "125"
    assert low <= marks[0] and marks[-1] <= high


def test_a_ruler_with_its_ends_swapped_is_refused() -> None:
    with pytest.raises(ValueError, match="Swap them"):
        ruler(5, 1, "s", prefix="p", title="t", description="d")
