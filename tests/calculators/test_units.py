"""Units against pint and against printed tables."""

from __future__ import annotations

import itertools

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators import units
from calculators.numbers import fixed

PINT = {"mmHg": "mmHg", "kPa": "kPa", "cmH2O": "cmH2O", "mm": "mm", "cm": "cm", "degrees": "degree",
        "/min": "1/minute", "%": "percent", "": "dimensionless", "in": "inch", "kg": "kg", "lb": "pound",
        "kg/m2": "kg/m**2", "m2": "m**2", "s": "s", "ms": "ms", "years": "year", "°C": "degC", "°F": "degF"}
PAIRS = [
    (one[0], other[0]) for one, other in itertools.permutations(units.UNITS, 2) if one[1] == other[1]
]


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry:
    """Units as an independent library defines them."""
    return pint.UnitRegistry()


@pytest.mark.parametrize(("unit", "other"), PAIRS)
def test_agrees_with_pint(registry: pint.UnitRegistry, unit: str, other: str) -> None:
    """Every conversion agrees to 1e-9. scipy's mmHg would not do: it is a torr, 1.4e-7 less."""
    theirs = registry.Quantity(120.0, PINT[unit]).to(PINT[other]).magnitude
    assert units.convert(120.0, unit, other) == pytest.approx(theirs, rel=1e-9)


def test_every_unit_is_held_against_pint() -> None:
    """No unit is left out of the comparison."""
    assert {row[0] for row in units.UNITS} == set(PINT)


def test_a_millimetre_of_mercury_is_not_a_torr() -> None:
    """The defined factor, and how far the torr and the rounded record code lie from it."""
    mmhg = units.convert(1, "mmHg", "kPa") * 1000
    assert mmhg == pytest.approx(133.322387415, rel=1e-12)
    assert abs(mmhg / (101325 / 760) - 1) > 1e-7
    assert mmhg == pytest.approx(133.322, rel=5e-6)
    assert units.convert(1, "mmHg", "cmH2O") == pytest.approx(1.35951, rel=1e-12)


# Printed conversions and tables worked from the printed factors [nist811, Appendix B].
CMH2O = [1, 3, 5, 8, 10, 12, 14, 15, 20]
CMH2O_MMHG = ["0.74", "2.21", "3.68", "5.88", "7.36", "8.83", "10.30", "11.03", "14.71"]
CMH2O_KPA = ["0.098", "0.294", "0.490", "0.785", "0.981", "1.177", "1.373", "1.471", "1.961"]
MMHG = [2, 3, 6, 8, 10, 12, 15, 22]
MMHG_CMH2O = ["2.72", "4.08", "8.16", "10.88", "13.60", "16.31", "20.39", "29.91"]
MMHG_KPA = ["0.267", "0.400", "0.800", "1.067", "1.333", "1.600", "2.000", "2.933"]
TABLES = [
    ("cmH2O", "mmHg", 2, CMH2O, CMH2O_MMHG),
    ("cmH2O", "kPa", 3, CMH2O, CMH2O_KPA),
    ("mmHg", "cmH2O", 2, MMHG, MMHG_CMH2O),
    ("mmHg", "kPa", 3, MMHG, MMHG_KPA),
    ("mmHg", "kPa", 4, [80, 90, 120, 140, 180], ["10.6658", "11.9990", "15.9987", "18.6651", "23.9980"]),
    # Three mmHg are taken as 4 cm of blood in the neck [ewy1988, abstract].
    ("mmHg", "cmH2O", 0, [3], ["4"]),
]


@pytest.mark.parametrize(("unit", "other", "places", "given_", "printed"), TABLES)
def test_conversion_tables(unit: str, other: str, places: int, given_: list[int], printed: list[str]) -> None:
    """Every cell of the tables comes out."""
    assert [fixed(units.convert(value, unit, other), places) for value in given_] == printed


@given(st.sampled_from(PAIRS), st.floats(-1000, 1000))
def test_there_and_back(pair: tuple[str, str], value: float) -> None:
    """A conversion undone gives the value again, and the same unit changes nothing at all."""
    one, other = pair
    assert units.convert(units.convert(value, one, other), other, one) == pytest.approx(value, rel=1e-12, abs=1e-12)
    assert units.convert(value, one, one) == value


@pytest.mark.parametrize(("text", "unit"), [
    ("mmHg", "mmHg"), ("mm Hg", "mmHg"), ("MMHG", "mmHg"), ("kpa", "kPa"), ("cmH₂O", "cmH2O"),
    ("cm H2O", "cmH2O"), ("°", "degrees"), ("deg.", "degrees"), ("bpm", "/min"), ("/ min", "/min"), ("cm", "cm"),
    ("psi", None), ("m", None), ("e5", None),
])
def test_typed_units(text: str, unit: str | None) -> None:
    """A unit is known by the ways people type it, and never guessed."""
    assert units.typed(text) == unit


@pytest.mark.parametrize(("unit", "shown"), [
    ("mmHg", "8 mmHg"), ("cmH2O", "8 cmH₂O"), ("degrees", "8°"), ("/min", "8/min"), ("%", "8 %"), ("", "8"),
])
def test_shown_units(unit: str, shown: str) -> None:
    """A number and its unit stand as in print."""
    assert units.with_unit("8", unit) == shown


def test_unknown_unit_is_named() -> None:
    """A sheet with a unit that is not there fails with its name."""
    with pytest.raises(ValueError, match="no such unit: torr"):
        units.symbol("torr")
