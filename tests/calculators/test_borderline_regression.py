"""The cut score against two statistics libraries, and tables as people paste them."""

from __future__ import annotations

import numpy
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.stats import linregress, t
from statsmodels.api import OLS, add_constant

from calculators import pasted
from calculators.borderline_regression.formula import SPAN, _t, regression, unfit
from tests.calculators.loaded import SHEETS, ask

NAME = "borderline_regression"
COLUMNS = SHEETS[NAME].data["inputs"][0]["columns"]
GRADES = [1, 1, 2, 2, 2, 3, 3, 3, 3, 4, 4, 4, 5, 5, 5]
SCORES = [38, 44, 50, 47, 55, 61, 58, 66, 63, 70, 74, 68, 82, 79, 85]
MARKS = [[float(grade), float(score)] for grade, score in zip(GRADES, SCORES, strict=True)]
TABLE = "\n".join(f"{grade} {score}" for grade, score in zip(GRADES, SCORES, strict=True))


@given(st.lists(st.tuples(st.integers(0, 6), st.integers(0, 100)), min_size=10, max_size=80), st.integers(0, 6))
def test_line_and_error_agree_with_two_libraries(rows: list[tuple[int, int]], borderline: int) -> None:
    """Cut, standard error, interval and R² of any table that is not refused."""
    marks = [list(row) for row in rows]
    assume(unfit(marks) == "")
    found = regression(marks, borderline)
    grades, scores = (numpy.array(column, float) for column in zip(*rows, strict=True))
    line = linregress(grades, scores)
    assert found["slope"] == pytest.approx(line.slope, rel=1e-9)
    assert found["cut"] == pytest.approx(line.intercept + line.slope * borderline, rel=1e-9, abs=1e-9)
    assert found["r_squared"] == pytest.approx(line.rvalue**2, rel=1e-9)
    there = OLS(scores, add_constant(grades)).fit().get_prediction([[1.0, borderline]])
    low, high = there.conf_int(alpha=1 - SPAN)[0]
    assert found["error"] == pytest.approx(there.se_mean[0], rel=1e-7, abs=1e-9)
    assert (found["low"], found["high"]) == pytest.approx((low, high), rel=1e-7, abs=1e-7)
    assert found["alike"] == int((grades == borderline).sum())


def test_fifteen_candidates() -> None:
    """The example of the sheet, with all its digits."""
    found = regression(MARKS, 2)
    shown = [found[name] for name in ("cut", "r_squared", "error", "low", "high")]
    expected = [51.0984455959, 0.9550363408, 1.0639439353, 48.7999344659, 53.3969567258]
    assert shown == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize("freedom", [*range(2, 60), 99, 198, 499, 1998])
def test_t_distribution(freedom: int) -> None:
    """The quantile by a finite series is the library's."""
    assert _t(freedom) == pytest.approx(t.ppf((1 + SPAN) / 2, freedom), rel=1e-10)


@pytest.mark.parametrize("table", [
    TABLE.replace(" ", "\t"), TABLE.replace(" ", ";"), TABLE.replace(" ", ","), TABLE.replace(" ", ", "),
    TABLE.replace(" ", " ,"), TABLE.replace("\n", "\r\n"), TABLE.replace("\n", "\r"), "\n\n" + TABLE + "\n \n",
    "Grade\tScore\n" + TABLE.replace(" ", "\t"), TABLE.replace(" ", "\u00a0  "), TABLE.replace("\n", ",0\n"),
])
def test_tables_as_they_are_pasted(table: str) -> None:
    """Tabs, semicolons, commas, spaces, any line end, empty lines and headings: the same rows."""
    assert pasted.read(table, COLUMNS) == (MARKS, "", "")


@pytest.mark.parametrize(("table", "kind", "words"), [
    ("2 50\n3", "unreadable", "Line 2: “3” has 1 part. Write global grade and score"),
    ("A 2 50", "unreadable", "Line 1: “A 2 50” has 3 parts."),
    ("2,50,5", "unreadable", "has 3 parts"),
    ("2 1,200", "unreadable", "two ways"),
    ("2 50%", "unreadable", "Write the number alone."),
    ("2\tfifty", "unreadable", "“fifty” is not a number"),
    ("grade score\ngrade score\n2 50", "unreadable", "Line 2: "),
    ("grade score", "unreadable", "There is no line with numbers."),
    ("2 50\n2 5000", "impossible", "Line 2: Score of 5000 cannot be right: it takes 0 to 1000."),
    ("21 50", "impossible", "Line 1: Global grade of 21 cannot be right"),
])
def test_a_line_that_cannot_be_read_is_named(table: str, kind: str, words: str) -> None:
    """No line is passed over or guessed at: the first odd one is told with its number."""
    rows, problem, found = pasted.read(table, COLUMNS)
    assert (rows, found) == ([], kind)
    assert words in problem


def test_what_is_said() -> None:
    """The cut score with its interval; the copied text counts the lines and repeats none of them."""
    answer = ask(NAME, {"marks": TABLE, "borderline": "2"})
    assert answer["results"][0]["sentence"] == "The cut score is 51.10."
    assert "48.80 to 53.40" in answer["results"][0]["uncertainty"]
    assert "Grades and scores: 15 lines" in answer["text"]
    assert "fewer candidates than the method needs" in answer["cautions"][0]["message"]


@pytest.mark.parametrize(("marks", "words"), [
    (MARKS[:9], "too few candidates"),
    ([[2.1, score] for _, score in MARKS], "All candidates have the same grade"),
    ([[6 - grade, score] for grade, score in MARKS], "Higher grades do not go with higher scores"),
    ([[grade, 47.3] for grade, _ in MARKS], "Higher grades do not go with higher scores"),
])
def test_what_is_refused(marks: list[list[float]], words: str) -> None:
    """Without a line there is no cut score, and the reason is given."""
    assert words in unfit(marks)
