"""Two commands on a fresh machine: a bare copy builds with each Python, and afterwards without a network."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from build_tools.building import hashes_of
from build_tools.environment import ROOT, TESTED, python_of
from tests.project_files import bare_copy

pytestmark = pytest.mark.slow


def python_named(version: str) -> str | None:
    """An interpreter of this version on this machine: the one in use, one on the path, or one kept by pyenv."""
    kept = Path(os.environ.get("PYENV_ROOT", Path.home() / ".pyenv")) / "versions"
    candidates = [
        sys.executable,
        shutil.which(f"python{version}"),
        *sorted(map(str, kept.glob(f"{version}.*/bin/python"))),
    ]
    for candidate in filter(None, candidates):
        ask = [candidate, "-c", "import sys; print('%d.%d' % sys.version_info[:2])"]
        if subprocess.run(ask, capture_output=True, encoding="utf-8").stdout.strip() == version:
            return candidate
    return None


@pytest.mark.parametrize("version", TESTED)
def test_a_bare_copy_builds_with_each_python_and_gives_the_same_site(
    version: str, tmp_path: Path, built_site: Path
) -> None:
    python = python_named(version)
    if python is None:
        pytest.skip(f"There is no Python {version} on this machine.")
    copy = bare_copy(tmp_path / "copy")
    command = [python, "-m", "build_tools", "build", "--unread-ok"]
    first = subprocess.run(command, cwd=copy, capture_output=True, encoding="utf-8")
    assert first.returncode == 0, first.stdout + first.stderr
    assert "Installing the packages for building ..." in first.stderr
    assert hashes_of(copy / "site") == hashes_of(built_site)
    second = subprocess.run(command, cwd=copy, capture_output=True, encoding="utf-8")
    assert (second.returncode, second.stderr) == (0, ""), "the second run had something to install"
    assert "Nothing has changed since the last build." in second.stdout
    for lock in ("test", "data"):
        install = [
            "-m",
            "pip",
            "install",
            "--dry-run",
            "--quiet",
            "--require-hashes",
            "--no-deps",
            "--only-binary",
            ":all:",
        ]
        asked = [str(python_of(copy)), *install, "-r", f"build_tools/locks/{lock}.txt"]
        done = subprocess.run(asked, cwd=copy, capture_output=True, encoding="utf-8")
        assert done.returncode == 0, f"the lock for {lock} does not install with Python {version}:\n{done.stderr}"


def test_no_network_is_needed_once_the_environment_exists(tmp_path: Path, built_site: Path) -> None:
    """Everything is rendered again, under other settings of the machine too: the site is the same to the byte."""
    unshare = shutil.which("unshare")
    alone = (
        [unshare or "unshare", "--net"]
        if getattr(os, "geteuid", int)() == 0
        else ["unshare", "--map-root-user", "--net"]
    )
    if unshare is None or subprocess.run([*alone, "true"], capture_output=True).returncode:
        pytest.skip("This system can't take the network away from one process.")
    site = tmp_path / "site"
    other_settings = {**os.environ, "PYTHONHASHSEED": "7", "TZ": "Pacific/Auckland", "LC_ALL": "C", "COLUMNS": "40"}
    done = subprocess.run(
        [*alone, sys.executable, "-m", "build_tools", "build", "--unread-ok", "--fresh", "--site", str(site)],
        cwd=ROOT,
        env=other_settings,
        capture_output=True,
        encoding="utf-8",
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert hashes_of(site) == hashes_of(built_site)


@pytest.mark.parametrize("version", ["2.7", "3.6", "3.8", "3.10"])
def test_an_older_python_is_told_what_it_needs(version: str) -> None:
    """Any of these that the machine has; the message itself is compiled by none newer than the oldest of them."""
    python = python_named(version)
    if python is None:
        pytest.skip(f"There is no Python {version} on this machine.")
    done = subprocess.run([python, "-m", "build_tools", "build"], cwd=ROOT, capture_output=True, encoding="utf-8")
    assert done.returncode == 1
    assert f"needs Python {TESTED[0]} or newer; this is Python {version}" in done.stderr
    assert "Traceback" not in done.stderr
