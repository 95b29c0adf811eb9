"""The environment: made once, kept while nothing changes, and plain words when something is lacking."""

from __future__ import annotations

import importlib.util
import json
import subprocess
import sys
import time
from pathlib import Path

import pytest

from build_tools import environment
from build_tools.environment import Advice, Step

STEP = Step("something", ("lock.txt",), "made", ("-c", "open('made', 'w').close()"))


@pytest.fixture
def runs() -> list[list[str]]:
    """The commands that were started."""
    return []


@pytest.fixture
def project(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, runs: list[list[str]]) -> Path:
    """A project folder with one thing to install; no command is really run, only noted in `runs`."""
    (tmp_path / "lock.txt").write_text("package==1\n", encoding="utf-8")

    def run(command: list[str], folder: Path, name: str) -> None:
        runs.append(command)
        if "venv" in command:
            python = environment.python_of(tmp_path)
            python.parent.mkdir(parents=True, exist_ok=True)
            python.write_text("", encoding="utf-8")
            (tmp_path / ".venv" / "pyvenv.cfg").write_text("", encoding="utf-8")
            (tmp_path / ".venv" / "installed.json").unlink(missing_ok=True)
        else:
            (folder / STEP.made).write_text("", encoding="utf-8")

    monkeypatch.setattr(environment, "_run", run)
    return tmp_path


def test_the_first_use_makes_the_environment_and_a_second_does_nothing(project: Path, runs: list[list[str]]) -> None:
    assert environment.make_ready([STEP], project)
    assert [command[1:3] for command in runs] == [["-m", "venv"], ["-c", STEP.arguments[1]]]
    assert not environment.make_ready([STEP], project)
    assert len(runs) == 2


def test_a_changed_lock_is_installed_again_and_the_rest_stays(project: Path, runs: list[list[str]]) -> None:
    environment.make_ready([STEP], project)
    (project / "lock.txt").write_text("package==2\n", encoding="utf-8")
    assert environment.make_ready([STEP], project)
    assert [command[1] for command in runs[2:]] == ["-c"]


def test_line_ends_of_a_lock_do_not_count(project: Path) -> None:
    environment.make_ready([STEP], project)
    (project / "lock.txt").write_bytes(b"package==1\r\n")
    assert not environment.make_ready([STEP], project)


def test_what_was_deleted_is_installed_again(project: Path) -> None:
    environment.make_ready([STEP], project)
    (project / "made").unlink()
    assert environment.make_ready([STEP], project)
    assert (project / "made").exists()


def test_an_environment_that_came_from_another_folder_is_made_anew(project: Path, runs: list[list[str]]) -> None:
    environment.make_ready([STEP], project)
    notes = project / ".venv" / "installed.json"
    moved = {**json.loads(notes.read_text(encoding="utf-8")), "folder": "elsewhere"}
    notes.write_text(json.dumps(moved), encoding="utf-8")
    assert environment.make_ready([STEP], project)
    assert [command[1:3] for command in runs[2:]] == [["-m", "venv"], ["-c", STEP.arguments[1]]]


def test_damaged_notes_are_no_obstacle(project: Path) -> None:
    environment.make_ready([STEP], project)
    (project / ".venv" / "installed.json").write_text("{", encoding="utf-8")
    assert environment.make_ready([STEP], project)


def test_a_step_that_fails_is_done_again_next_time(project: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    working = environment._run

    def run(command: list[str], folder: Path, name: str) -> None:
        if "venv" not in command:
            raise Advice("no network")
        working(command, folder, name)

    monkeypatch.setattr(environment, "_run", run)
    with pytest.raises(Advice, match="no network"):
        environment.make_ready([STEP], project)
    monkeypatch.setattr(environment, "_run", working)
    assert environment.make_ready([STEP], project)
    assert not environment.make_ready([STEP], project)


def test_a_command_that_fails_is_told_with_its_last_words_and_the_way_out(tmp_path: Path) -> None:
    with pytest.raises(Advice) as told:
        environment._run([sys.executable, "-c", "raise SystemExit('no such package')"], tmp_path, "the packages")
    text = str(told.value)
    assert "Could not install the packages" in text
    assert "    no such package" in text
    assert "needs the network" in text


def test_settings_that_would_put_packages_elsewhere_are_left_out_and_the_index_is_kept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in environment.OTHER_PLACES:
        monkeypatch.setenv(name, "elsewhere")
    monkeypatch.setenv("PIP_USER", "1")
    monkeypatch.setenv("PIP_INDEX_URL", "the user's own")
    show = "import json, os; json.dump(dict(os.environ), open('seen.json', 'w'))"
    environment._run([sys.executable, "-c", show], tmp_path, "nothing")
    seen = json.loads((tmp_path / "seen.json").read_text(encoding="utf-8"))
    assert not set(environment.OTHER_PLACES) & set(seen)
    assert (seen["PIP_USER"], seen["PIP_INDEX_URL"]) == ("0", "the user's own")


class TestMissingSystemPackage:
    """Debian as root installs it; anyone else is told its name."""

    @pytest.fixture(autouse=True)
    def system(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.commands: list[list[str]] = []
        self.fails = False

        def run(command: list[str], **_: object) -> subprocess.CompletedProcess[str]:
            self.commands.append(command)
            return subprocess.CompletedProcess(command, int(self.fails), "", "Unable to locate package")

        monkeypatch.setattr(environment.subprocess, "run", run)
        monkeypatch.setattr(environment.shutil, "which", lambda name: f"/usr/bin/{name}")
        monkeypatch.setattr(environment.Path, "exists", lambda path: True)
        monkeypatch.setattr(environment.os, "geteuid", lambda: 0, raising=False)

    def test_root_on_debian_has_it_installed(self) -> None:
        environment.need("A module is missing", "python3.11-venv")
        assert [command[2] for command in self.commands] == ["update", "install"]
        assert self.commands[1][-1] == "python3.11-venv"

    def test_another_user_on_debian_is_told_the_command(self, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setattr(environment.os, "geteuid", lambda: 1000)
        with pytest.raises(Advice, match=r"A module is missing.*sudo apt-get install python3\.11-venv"):
            environment.need("A module is missing", "python3.11-venv")
        assert not self.commands

    def test_another_system_is_told_the_name(self, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setattr(environment.shutil, "which", lambda name: None)
        with pytest.raises(Advice, match=r"A module is missing.*package manager.*python3\.11-venv"):
            environment.need("A module is missing", "python3.11-venv")
        assert not self.commands

    def test_a_package_that_can_not_be_had_is_told_with_what_the_system_says(self) -> None:
        self.fails = True
        with pytest.raises(Advice, match=r"(?s)could not install chromium fonts.*Unable to locate"):
            environment.need("The browser is missing", "chromium", "fonts")

    def test_a_python_without_its_module_for_environments_asks_for_it(
        self, project: Path, runs: list[list[str]], monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setattr(environment, "_stands", lambda root: bool(runs))
        monkeypatch.setattr(importlib.util, "find_spec", lambda name: None)
        environment._make_virtual_environment(project)
        version = f"{sys.version_info.major}.{sys.version_info.minor}"
        assert self.commands[-1][-1] == f"python{version}-venv"
        assert runs[0][1:3] == ["-m", "venv"]


def test_two_runs_at_once_wait_for_each_other(tmp_path: Path) -> None:
    lock = tmp_path / "work" / "build.lock"
    hold = (
        "import pathlib, sys, time; from build_tools.environment import only_one\n"
        "with only_one(pathlib.Path(sys.argv[1])):\n"
        "    print('held', flush=True); time.sleep(1)\n"
    )
    with subprocess.Popen([sys.executable, "-c", hold, str(lock)], stdout=subprocess.PIPE) as other:
        assert other.stdout is not None
        other.stdout.readline()
        began = time.monotonic()
        with environment.only_one(lock):
            assert time.monotonic() - began > 0.5
    with environment.only_one(lock):
        pass
