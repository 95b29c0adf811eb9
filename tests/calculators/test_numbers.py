"""Reading what people type, and showing numbers."""

from __future__ import annotations

import math
from decimal import ROUND_HALF_UP, Decimal

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from calculators.numbers import EDGE_SLACK, at_least, beyond, fixed, is_finite, parse, plain, rounded, trim

finite = st.floats(-1e6, 1e6)


@pytest.mark.parametrize(("text", "value", "unit"), [
    ("120", 120, ""),
    (" 120 ", 120, ""),
    ("7.5", 7.5, ""),
    ("7,5", 7.5, ""),
    ("0,905", 0.905, ""),
    ("0.125", 0.125, ""),
    ("1.200", 1.2, ""),
    (".5", 0.5, ""),
    ("5.", 5, ""),
    ("+3", 3, ""),
    ("-2", -2, ""),
    ("\u22122", -2, ""),
    ("\u2013 2", -2, ""),
    ("\u00a0120\u202f", 120, ""),
    ("16 kPa", 16, "kPa"),
    ("16kPa", 16, "kPa"),
    ("45°", 45, "°"),
    ("10,7\u00a0kPa", 10.7, "kPa"),
    ("72/min", 72, "/min"),
    ("1234,5", 1234.5, ""),
    ("12,3456", 12.3456, ""),
    ("007", 7, ""),
    ("-0", 0, ""),
])
def test_reads(text: str, value: float, unit: str) -> None:
    """Point or comma, any minus sign and space, and a unit behind are read."""
    assert parse(text) == (value, unit, "")
    assert math.copysign(1, parse(text)[0]) == (-1 if value < 0 else 1)


@pytest.mark.parametrize(("text", "says"), [
    ("1,200", "1200 if the comma marks thousands, or 1.200"),
    ("12,000", "two ways"),
    ("1,000,000", "more than one point or comma"),
    ("1.200,5", "more than one point or comma"),
    ("1 200", "one number or two"),
    ("80-90", "one number or two"),
    ("120/80", "two numbers"),
    ("", "not a number"),
    ("abc", "not a number"),
    ("-", "not a number"),
    (".", "not a number"),
    ("inf", "not a number"),
    ("nan", "not a number"),
    ("1_000", "digits alone"),
    ("１２０", "not a number"),
    ("--5", "not a number"),
    ("1234567890123456", "more digits"),
])
def test_asks_instead_of_guessing(text: str, says: str) -> None:
    """What can be read two ways or not at all is asked about, in a sentence, with no value."""
    value, unit, problem = parse(text)
    assert value is None
    assert unit == ""
    assert says in problem
    assert problem.endswith(".")


@pytest.mark.parametrize("text", ["1e5", "0x10", "5mmHg/3"])
def test_leaves_the_rest_as_a_unit(text: str) -> None:
    """Letters behind the digits are a unit, which the field then refuses."""
    assert parse(text)[1] != ""


@given(st.text(max_size=30))
def test_never_raises(text: str) -> None:
    """Whatever is typed gives either a value or a problem, and a value is finite."""
    value, _, problem = parse(text)
    assert (value is None) == (problem != "")
    assert value is None or math.isfinite(value)


@given(st.integers(0, 10**9), st.integers(0, 6))
def test_reads_every_decimal_exactly(digits: int, places: int) -> None:
    """A decimal is read as the nearest float, as Python itself would read it."""
    text = f"{Decimal(digits).scaleb(-places):f}"
    assert parse(text)[0] == float(text)
    if places != 3:
        assert parse(text.replace(".", ","))[0] == float(text)


@pytest.mark.parametrize(("value", "places", "text"), [
    (181 / 200, 2, "0.91"),
    (0.5, 0, "1"),
    (1.5, 0, "2"),
    (2.5, 0, "3"),
    (-2.5, 0, "−3"),
    (8.2, 1, "8.2"),
    (8.2, 3, "8.200"),
    (-0.004, 2, "0.00"),
    (0, 0, "0"),
    (1.005, 2, "1.01"),
    (93 + 1 / 3, 0, "93"),
    (0.05, 1, "0.1"),
    (12345.678, 1, "12345.7"),
    (9.999, 2, "10.00"),
])
def test_shows_fixed(value: float, places: int, text: str) -> None:
    """Halves go away from zero, and the minus sign is a true one."""
    assert fixed(value, places) == text


@given(st.integers(-10**7, 10**7), st.integers(0, 4))
@example(905, 3)
def test_rounds_decimals_as_a_person_would(digits: int, places: int) -> None:
    """A number typed with one decimal more is rounded as on paper, although the float lies beside it."""
    exact = Decimal(digits).scaleb(-places - 1)
    shown = exact.quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP)
    assert fixed(float(exact), places) == f"{abs(shown) if shown == 0 else shown:f}".replace("-", "−")


@given(finite, st.integers(0, 6))
def test_shown_number_is_near(value: float, places: int) -> None:
    """What is shown differs from the value by half of the last decimal at most."""
    assert abs(rounded(value, places) - value) <= 0.5000001 / 10**places
    assert fixed(rounded(value, places), places) == fixed(value, places)


@given(finite)
def test_plain_drops_closing_zeros(value: float) -> None:
    """A number shown plainly is the fixed one without closing zeros."""
    text = plain(value, 3)
    assert float(text.replace("−", "-")) == float(fixed(value, 3).replace("−", "-"))
    assert "." not in text or text[-1] not in "0."


@pytest.mark.parametrize(("value", "text"), [(8.0, "8"), (12.70, "12.7"), (100, "100"), (0, "0"), (-0.0001, "0")])
def test_shows_plain(value: float, text: str) -> None:
    """Whole numbers stay whole."""
    assert plain(value) == text


def test_finite() -> None:
    """Infinity and not-a-number are told from numbers without asking `math`."""
    assert is_finite(0) and is_finite(-1e308)
    assert not is_finite(math.inf) and not is_finite(-math.inf) and not is_finite(math.nan)


@given(finite)
def test_limits_meet(limit: float) -> None:
    """At a limit a value is "at least" it and not "beyond" it, dust of conversion or not."""
    dust = EDGE_SLACK / 2
    for value in (limit, limit + dust, limit - dust):
        assert at_least(value, limit)
        assert not beyond(value, limit)
    assert beyond(limit + 0.001, limit) and not at_least(limit - 0.001, limit)


def test_trims_every_space() -> None:
    """No-break and thin spaces are spaces; a space inside stays."""
    assert trim("\u00a0 a\u202fb\ufeff ") == "a\u202fb"
    assert trim(" \t") == ""
