"""The calculator that DEVELOPERS.md shows keeps every rule of those in the handbook."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from types import ModuleType

import jsonschema
import pytest

from build_tools import proving
from build_tools.environment import ROOT
from build_tools.handbook import Sheet
from build_tools.loading import load_toml
from build_tools.sheet_faults import faults
from tests.calculators.test_portable_rules import broken_rules
from tests.documented import CALCULATOR, documented


@pytest.fixture
def sheet(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Sheet:
    """Its sheet, with its formula in place as if its folder stood beside the others."""
    files, _ = documented()
    formulas = ModuleType(f"calculators.{CALCULATOR}.formula")
    exec(files[f"calculators/{CALCULATOR}/formula.py"], formulas.__dict__)
    monkeypatch.setitem(sys.modules, formulas.__name__, formulas)
    monkeypatch.setitem(sys.modules, f"calculators.{CALCULATOR}", ModuleType(f"calculators.{CALCULATOR}"))
    path = tmp_path / "sheet.toml"
    path.write_text(files[f"calculators/{CALCULATOR}/sheet.toml"], encoding="utf-8")
    located = load_toml(path)
    return Sheet(CALCULATOR, path, located.data, located.lines)


def test_its_sheet_has_no_faults_and_its_checks_hold(sheet: Sheet) -> None:
    schema = json.loads((ROOT / "build_tools/schemas/sheet.json").read_text(encoding="utf-8"))
    assert [fault.message for fault in jsonschema.Draft202012Validator(schema).iter_errors(sheet.data)] == []
    assert faults(CALCULATOR, sheet.data, sheet.lines) == []
    proof = proving.prove({CALCULATOR: sheet})
    assert proof.misses == []
    assert proof.by_kind == {"constructed": len(sheet.data["checks"])}


def test_its_formula_is_portable() -> None:
    files, _ = documented()
    file = f"calculators/{CALCULATOR}/formula.py"
    assert list(broken_rules(files[file], file)) == []
