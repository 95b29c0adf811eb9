"""The code keeps the rules that pyproject.toml sets, each exception with its reason beside it."""

from __future__ import annotations

import subprocess
import sys

import pytest

from build_tools.environment import ROOT


@pytest.mark.parametrize("command", [["ruff", "check", "--quiet"], ["mypy"]], ids=["ruff", "mypy"])
def test_the_code_keeps_the_rules(command: list[str]) -> None:
    done = subprocess.run([sys.executable, "-m", *command], cwd=ROOT, capture_output=True, encoding="utf-8")
    assert done.returncode == 0, f"\n{done.stdout}{done.stderr}"
