"""No test is left out in silence: a skip, an expected failure or a pass against expectation fails the run."""

from __future__ import annotations

import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from build_tools.environment import ROOT
from tests.conftest import ALLOWED_SKIPS
from tests.project_files import own_files

CASES = {
    "plain": ("def test_it(): pass", 0),
    "skipped": ("import pytest\ndef test_it(): pytest.skip('no time')", 1),
    "skipped by a mark": ("import pytest\n@pytest.mark.skip(reason='no time')\ndef test_it(): pass", 1),
    "skipped as a whole": ("import pytest\npytest.skip('no time', allow_module_level=True)", 1),
    "expected to fail": ("import pytest\n@pytest.mark.xfail(reason='no time')\ndef test_it(): assert False", 1),
    "passed against expectation": (
        "import pytest\n@pytest.mark.xfail(strict=False, reason='no time')\ndef test_it(): pass",
        1,
    ),
}


def run(folder: Path, code: str, *options: str) -> subprocess.CompletedProcess[str]:
    test = folder / "test_case.py"
    test.write_text(code + "\n", encoding="utf-8")
    command = [sys.executable, "-m", "pytest", "-c", str(ROOT / "pyproject.toml"), f"--rootdir={folder}"]
    command += ["-p", "tests.conftest", "-p", "no:cacheprovider", *options, str(test)]
    return subprocess.run(command, cwd=ROOT, capture_output=True, encoding="utf-8")


@pytest.mark.parametrize(("code", "exit_code"), CASES.values(), ids=list(CASES))
def test_what_is_left_out_fails_the_run_and_is_named(tmp_path: Path, code: str, exit_code: int) -> None:
    done = run(tmp_path, code)
    assert done.returncode == exit_code, done.stdout
    assert ("left out without a listed reason" in done.stdout) == bool(exit_code)
    assert not exit_code or "no time" in done.stdout
    # The last line is pytest's own, whatever was found.
    assert done.stdout.splitlines()[-1].startswith("===")


def test_what_the_quick_round_leaves_out_by_its_marker_is_not_a_skip(tmp_path: Path) -> None:
    code = "import pytest\n@pytest.mark.slow\ndef test_slow(): pass\ndef test_quick(): pass"
    done = run(tmp_path, code, "-m", "not slow")
    assert done.returncode == 0, done.stdout
    assert "1 passed, 1 deselected" in done.stdout


def test_each_listed_test_exists_and_has_its_reason() -> None:
    rows = tomllib.loads(ALLOWED_SKIPS.read_text(encoding="utf-8"))["allowed"]
    sources = {path.relative_to(ROOT).as_posix(): path for path in own_files()}
    for row in rows:
        assert set(row) == {"test", "reason"}
        assert len(row["reason"].split()) > 4, f"{row['test']}: say why"
        file, _, test = row["test"].partition("::")
        name = test.split("::")[-1].rstrip("*").split("[")[0]
        assert f"def {name}" in sources[file].read_text(encoding="utf-8"), f"{row['test']}: there is no such test"
