"""Drawings: whole steps inside the frame, round ticks, dots that tell how many."""

from __future__ import annotations

import math

from hypothesis import given
from hypothesis import strategies as st

from build_tools.figures.result_drawing import result_drawing
from calculators import drawings
from tests.calculators.test_borderline_regression import TABLE
from tests.calculators.test_borderline_regression import ask as ask_for

NAMES = {"across": "Grade", "up": "Score <raw>", "says": "The cut is {cut:1}."}
NUMBERS = st.floats(-1e6, 1e6, allow_nan=False)


@given(st.lists(st.tuples(NUMBERS, NUMBERS), min_size=2, max_size=30), st.booleans())
def test_all_lies_on_whole_steps_inside_the_frame(points: list[tuple[float, float]], flat: bool) -> None:
    xs, ys = ([point[axis] for point in points] for axis in (0, 1))
    ends = [[min(xs), max(xs) + 1], [min(ys), max(ys) + 1]]
    shapes = {
        "across": ends[0], "up": None if flat else ends[1],
        "points": [["seen", x, 0.5 if flat else y] for x, y in points],
        "lines": [["fit", ends[0][0], None, ends[0][1], None]],
    }
    drawing = drawings.drawn(NAMES, shapes, {"cut": 2.0})
    left, top, right, bottom = drawing["frame"]
    found = [point[1:3] for point in drawing["points"]] + [drawing["lines"][0][1:3], drawing["lines"][0][3:]]
    assert all(isinstance(step, int) for place in found for step in place)
    assert all(left <= x <= right and top <= y <= bottom for x, y in found)
    assert drawing["says"] == "The cut is 2.0."
    assert (drawing["up"] is None) == flat
    for axis, first, last in [("across", left, right)] + ([] if flat else [("up", top, bottom)]):
        ticks = drawing[axis]["ticks"]
        assert 1 <= len(ticks) <= drawings.MOST_TICKS + 1
        assert all(first <= place <= last for place, _ in ticks)


def test_ticks_are_round() -> None:
    """Their steps are one, two or five of a power of ten."""
    for low, high in ((0, 1), (1, 5), (0.004, 0.03), (-40, 260), (0, 1000), (38.2, 39.1)):
        shapes = {"across": [low, high], "up": None, "points": [], "lines": []}
        words = [text for _, text in drawings.drawn(NAMES, shapes, {"cut": 0})["across"]["ticks"]]
        numbers = [float(word.replace("−", "-")) for word in words]
        step = numbers[1] - numbers[0]
        assert round(step / 10 ** math.floor(math.log10(step) + 1e-9)) in (1, 2, 5), words


def test_dots_on_one_place_become_one_that_is_larger() -> None:
    shapes = {
        "across": [0, 10], "up": [0, 10], "lines": [],
        "points": [["seen", 1, 1]] + 3 * [["seen", 5, 5]] + 12 * [["seen", 9, 9]],
    }
    assert [point[3] for point in drawings.drawn(NAMES, shapes, {"cut": 0})["points"]] == [3, 4, 7]


def test_picture_is_named_escaped_and_without_inline_style() -> None:
    drawing = ask_for("borderline_regression", {"marks": TABLE, "borderline": "2"})["results"][0]["drawing"]
    drawing["up"]["label"] = NAMES["up"]
    svg = result_drawing(drawing, "Cut <score>")
    assert 'role="img" aria-label="Cut &lt;score&gt;"' in svg
    assert "Score &lt;raw&gt;" in svg and "style=" not in svg
    assert svg.count("<circle") == len(drawing["points"])
