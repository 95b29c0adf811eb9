"""What all tests share: one build of the site a run, and no test left out without a listed reason."""

from __future__ import annotations

import fnmatch
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from build_tools.environment import ROOT

ALLOWED_SKIPS = ROOT / "tests" / "allowed_skips.toml"


@pytest.fixture(scope="session")
def built_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The finished site of this handbook, built by the command itself. Tests read it and never change it.

    Figures may wait for their second read here: that they don't is a test of its own.
    """
    site = tmp_path_factory.mktemp("built") / "site"
    command = [sys.executable, "-m", "build_tools", "build", "--unread-ok", "--site", str(site)]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, encoding="utf-8")
    assert done.returncode == 0, f"the handbook does not build:\n{done.stdout}\n{done.stderr}"
    return site


class LeftOut:
    """Fails the run for a test that was skipped, was expected to fail, or passed against expectation.

    Each may be listed with its reason in allowed_skips.toml; what `--quick` leaves out by its marker is not skipped.
    """

    def __init__(self, allowed: dict[str, str]) -> None:
        self.allowed = allowed
        self.found: dict[str, str] = {}

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.skipped or hasattr(report, "wasxfail"):
            self._find(report.nodeid, report)

    def pytest_collectreport(self, report: pytest.CollectReport) -> None:
        if report.skipped:
            self._find(report.nodeid, report)

    def _find(self, name: str, report: pytest.TestReport | pytest.CollectReport) -> None:
        if not any(fnmatch.fnmatchcase(name, pattern) for pattern in self.allowed):
            reason = report.longrepr[2] if isinstance(report.longrepr, tuple) else getattr(report, "wasxfail", "")
            self.found[name] = reason or "no reason given"

    @pytest.hookimpl(tryfirst=True)
    def pytest_sessionfinish(self, session: pytest.Session) -> None:
        if self.found and session.exitstatus in (pytest.ExitCode.OK, pytest.ExitCode.NO_TESTS_COLLECTED):
            session.exitstatus = pytest.ExitCode.TESTS_FAILED

    def pytest_terminal_summary(self, terminalreporter: pytest.TerminalReporter) -> None:
        if self.found:
            terminalreporter.section("left out without a listed reason: this fails the run", red=True)
            for name, reason in sorted(self.found.items()):
                terminalreporter.line(f"{name}: {reason}")
            terminalreporter.line(f"Make them run, or list them with a reason in {ALLOWED_SKIPS.relative_to(ROOT)}.")


def allowed_skips(path: Path = ALLOWED_SKIPS) -> dict[str, str]:
    """Which tests may be left out, and why: name of the test (* stands for anything) -> reason."""
    rows = tomllib.loads(path.read_text(encoding="utf-8")).get("allowed", [])
    return {row["test"]: row["reason"] for row in rows}


def pytest_configure(config: pytest.Config) -> None:
    config.pluginmanager.register(LeftOut(allowed_skips()))
