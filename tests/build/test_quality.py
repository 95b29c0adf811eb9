"""The code keeps the rules that pyproject.toml sets, each exception with its reason beside it."""

from __future__ import annotations

import subprocess
import sys

import pytest

from build_tools.environment import ROOT
from tests.project_files import own_files


@pytest.mark.parametrize("command", [["ruff", "check", "--quiet"], ["mypy"]], ids=["ruff", "mypy"])
def test_the_code_keeps_the_rules(command: list[str]) -> None:
    done = subprocess.run([sys.executable, "-m", *command], cwd=ROOT, capture_output=True, encoding="utf-8")
    assert done.returncode == 0, f"\n{done.stdout}{done.stderr}"


def test_no_file_is_passed_over_by_the_linter() -> None:
    """Its default leaves out every folder named "build", and tests/build is one."""
    command = [sys.executable, "-m", "ruff", "check", "--show-files"]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, encoding="utf-8", check=True)
    assert {str(path) for path in own_files() if path.suffix == ".py"} <= set(done.stdout.splitlines())


@pytest.mark.slow
def test_no_file_of_tests_is_passed_over() -> None:
    command = [sys.executable, "-m", "pytest", "--collect-only", "--quiet"]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, encoding="utf-8")
    collected = {line.partition("::")[0] for line in done.stdout.splitlines() if "::" in line}
    written = {path.relative_to(ROOT).as_posix() for path in own_files() if path.match("test_*.py")}
    assert collected == written, done.stdout
