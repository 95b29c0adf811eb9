"""What must hold for every value: order, symmetry, units."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from calculators.ankle_brachial_index.formula import STIFF, arm_difference, by_higher_ankle, by_lower_ankle
from calculators.central_venous_pressure.formula import by_computed_tomography, by_rounded_distances, customary
from calculators.mean_arterial_pressure.formula import one_third, rate_corrected, rate_fitted, two_fifths
from calculators.pulse_pressure.formula import difference, proportion
from tests.calculators.loaded import ask

pressures = st.tuples(st.integers(30, 300), st.integers(10, 200)).filter(lambda pair: pair[1] < pair[0])
ankles = st.floats(10, 300) | st.just(0.0) | st.none() | st.just(STIFF)
arms = st.floats(40, 300) | st.none()
heights = st.floats(-15, 30)
angles = st.floats(0, 90)


@given(pressures, st.integers(42, 180))
def test_mean_lies_between_the_pressures(pair: tuple[int, int], rate: int) -> None:
    """Every formula puts the mean between diastolic and systolic, the 0.40 rule above the one-third rule."""
    systolic, diastolic = pair
    means = [one_third(*pair)["mean"], two_fifths(*pair)["mean"], rate_corrected(*pair, rate)["mean"]]
    assert all(diastolic < mean < systolic for mean in means)
    assert means[0] < means[1]


@given(pressures, st.integers(42, 299))
def test_mean_rises_with_the_rate(pair: tuple[int, int], rate: int) -> None:
    """Both formulas with heart rate rise with it."""
    for formula in (rate_corrected, rate_fitted):
        assert formula(*pair, rate)["mean"] < formula(*pair, rate + 1)["mean"]


@given(pressures)
def test_mean_is_the_weighted_mean(pair: tuple[int, int]) -> None:
    """The one-third rule is (S + 2 D) / 3."""
    systolic, diastolic = pair
    assert one_third(*pair)["mean"] == pytest.approx((systolic + 2 * diastolic) / 3, rel=1e-12)


@given(pressures)
def test_share_of_the_systolic(pair: tuple[int, int]) -> None:
    """The proportion is the difference over the systolic, over 0 and up to 100 %."""
    share = proportion(*pair)["share"]
    assert share == pytest.approx(100 * difference(*pair)["pulse_pressure"] / pair[0], rel=1e-12)
    assert 0 < share <= 100


@given(pressures)
def test_kilopascals_change_nothing(pair: tuple[int, int]) -> None:
    """The same pressures typed in kPa give the same numbers, bands and advice."""
    in_mmhg = {"systolic_mmhg": str(pair[0]), "diastolic_mmhg": str(pair[1])}
    in_kpa = {name: f"{float(text) * 0.133322387415:.12f}" for name, text in in_mmhg.items()}
    units = {"systolic_mmhg": "kPa", "diastolic_mmhg": "kPa"}
    for calculator in ("mean_arterial_pressure", "pulse_pressure"):
        one = ask(calculator, in_mmhg)
        other = ask(calculator, in_kpa, units=units)
        assert one["state"] == other["state"]
        for ours, theirs in zip(one["results"], other["results"], strict=True):
            assert ours["raw"] == pytest.approx(theirs["raw"], rel=1e-9)
            assert ours["bands"] == theirs["bands"]


@given(heights, angles)
def test_a_centimetre_is_a_centimetre(height: float, angle: float) -> None:
    """One centimetre more of height is one cmH2O more in every sum."""
    sums = [
        (customary(height), customary(height + 1)),
        (by_rounded_distances(height, angle), by_rounded_distances(height + 1, angle)),
        (by_computed_tomography(height, angle), by_computed_tomography(height + 1, angle)),
    ]
    assert (sums[2] == (None, None)) == (angle > 60)
    for low, high in sums[: 2 if angle > 60 else 3]:
        assert high["pressure"] - low["pressure"] == pytest.approx(1, abs=1e-9)


@given(angles, angles)
def test_distance_grows_with_elevation(one: float, other: float) -> None:
    """Raising the trunk never brings the atrium nearer, between 5 and 10 cm."""
    assume(one <= other)
    for formula in (by_computed_tomography, by_rounded_distances):
        low, high = formula(0, one), formula(0, other)
        if high is not None:
            assert 5 <= low["distance"] <= high["distance"] + 1e-9 <= 10 + 1e-9


@given(ankles, ankles, arms, arms)
def test_order_of_arteries_and_arms_does_not_matter(one: Any, other: Any, right: Any, left: Any) -> None:
    """Swapping the arteries or the arms gives the same index."""
    for formula in (by_higher_ankle, by_lower_ankle):
        found = formula([one, other], [right, left])
        assert formula([other, one], [right, left]) == found
        assert formula([one, other], [left, right]) == found
    assert arm_difference([right, left]) == arm_difference([left, right])


@given(ankles, ankles, arms, arms)
def test_higher_is_not_below_lower(one: Any, other: Any, right: Any, left: Any) -> None:
    """The index by the higher pressure is never below the other, and never made of what was not measured."""
    higher = by_higher_ankle([one, other], [right, left])
    lower = by_lower_ankle([one, other], [right, left])
    if isinstance(higher, dict) and isinstance(lower, dict):
        assert lower["index"] <= higher["index"]
    if right is None and left is None:
        assert not isinstance(higher, dict)
    if {one, other} <= {None, 0.0} and None in {one, other}:
        assert higher is None


@given(st.floats(10, 300), st.floats(40, 300))
def test_index_times_arm_is_ankle(ankle: float, arm: float) -> None:
    """The index is the ratio it says it is."""
    found = by_higher_ankle([ankle, 10], [arm, 40])
    assert found["index"] * found["arm"] == pytest.approx(ankle, rel=1e-12)
