"""Build the site: check, prove, render into .build/site, then place it.

The finished site depends on nothing but the files of the project and what the locks installed. A hash over
all of them is kept beside the rendered site, so that a build with nothing changed only looks and places.
"""

from __future__ import annotations

import hashlib
import json
import logging
import os
import shutil
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from build_tools import __date__
from build_tools.environment import only_one
from build_tools.placing import Placed, files_of, place

if TYPE_CHECKING:
    from build_tools.handbook import Handbook

# What can't change the site: the tests, and what is made from the rest. Names with a dot in front likewise.
ASIDE = ("site", "packed", "tests")


class BuildFailed(Exception):
    """The site could not be built; the text lists what to mend. The standing site is as it was."""


class PlacingBrokeOff(Exception):
    """The finished site could not be copied to the end; the text says why. What stands there is whole."""


@dataclass(frozen=True)
class Rendered:
    """A finished site: where it lies, checks of calculators passed, and whether it was rendered now."""

    site: Path
    checks: int
    anew: bool


@dataclass(frozen=True)
class Built:
    """What a build came to: pages and bytes of the site, checks of calculators passed, what was placed."""

    pages: int
    size: int
    checks: int
    placed: Placed
    rendered: bool
    seconds: float


def build(
    root: Path,
    site: Path,
    *,
    fresh: bool = False,
    unread_ok: bool = False,
    drafts: bool = False,
    tell: Callable[[str], None] = print,
) -> Built:
    """Build the handbook of a project folder into `site`.

    fresh: render all pages even when nothing has changed. unread_ok: let figures wait for their second read,
    for a look at a page that is being written. drafts: show what is a draft too. tell: takes lines of progress.
    Raises BuildFailed, and then leaves `site` untouched, or PlacingBrokeOff, and then every page there has its files.
    """
    began = time.monotonic()
    with rendered(root, fresh=fresh, unread_ok=unread_ok, drafts=drafts, tell=tell) as made:
        try:
            placed = place(made.site, site)
        except OSError as error:
            raise PlacingBrokeOff(f"The copy to {site} broke off: {error}") from error
    names = files_of(site)
    return Built(
        pages=sum(name.endswith(".html") and name != "404.html" for name in names),
        size=sum((site / name).stat().st_size for name in names),
        checks=made.checks,
        placed=placed,
        rendered=made.anew,
        seconds=time.monotonic() - began,
    )


@contextmanager
def rendered(
    root: Path,
    *,
    fresh: bool = False,
    unread_ok: bool = False,
    drafts: bool = False,
    tell: Callable[[str], None] = print,
) -> Iterator[Rendered]:
    """Hold the finished site of a project folder while the block runs, rendered anew if anything has changed.

    The arguments are those of `build`. Raises BuildFailed.
    """
    work = root / ".build"
    with only_one(work / "build.lock"):
        # A site with unread figures or with drafts must not pass for one without.
        inputs = f"{hash_of_inputs(root)}{' unread' if unread_ok else ''}{' drafts' if drafts else ''}"
        record = _record(work)
        anew = fresh or record.get("inputs") != inputs or record.get("outputs") != hashes_of(work / "site")
        if anew:
            # Rendering that breaks off must not pass for finished.
            (work / "built.json").unlink(missing_ok=True)
            checks = _render(root, work / "site", unread_ok, drafts, tell)
            record = {"inputs": inputs, "checks": checks, "outputs": hashes_of(work / "site")}
            (work / "built.json").write_text(json.dumps(record, indent=1), encoding="utf-8")
        else:
            tell("Nothing has changed since the last build.")
        yield Rendered(work / "site", record["checks"], anew)


def inputs_of(root: Path) -> Iterator[Path]:
    """All files that can change the site, the browser engines among them."""
    for folder, folders, files in os.walk(root):
        here = Path(folder)
        top = here == root
        folders[:] = [
            name
            for name in sorted(folders)
            if not name.startswith(".") and name != "__pycache__" and not (top and name in ASIDE)
        ]
        for name in sorted(files):
            if not name.startswith("."):
                yield here / name


def hash_of_inputs(root: Path) -> str:
    """One hash over every file that can change the site, the installed packages and the date in its pages."""
    total = hashlib.sha256(_build_date().encode())
    # Names every lock that the environment was made from, and the Python version.
    installed = root / ".venv" / "installed.json"
    for path in [*inputs_of(root), *([installed] if installed.exists() else [])]:
        total.update(path.relative_to(root).as_posix().encode() + b"\0")
        total.update(hashlib.sha256(path.read_bytes()).digest())
    return total.hexdigest()


def hashes_of(folder: Path) -> dict[str, str]:
    """The hash of each file under a folder; empty when there is no such folder."""
    names = sorted(files_of(folder)) if folder.is_dir() else []
    return {name: hashlib.sha256((folder / name).read_bytes()).hexdigest() for name in names}


def _record(work: Path) -> dict[str, Any]:
    try:
        return dict(json.loads((work / "built.json").read_text(encoding="utf-8")))
    except (OSError, ValueError):
        return {}


def _build_date() -> str:
    """Seconds since 1970 that stand for the time of the build: the version's own date, unless it is set.

    A real clock would make every build differ from the last.
    """
    released = datetime.strptime(__date__, "%Y-%m-%d").replace(tzinfo=UTC)
    return os.environ.get("SOURCE_DATE_EPOCH") or str(int(released.timestamp()))


def _render(root: Path, output: Path, unread_ok: bool, drafts: bool, tell: Callable[[str], None]) -> int:
    """Check, prove and render; gives the number of checks of calculators that passed."""
    from build_tools import bases, handbook, proving
    from build_tools.problems import report

    book = handbook.load(root, unread_ok, drafts)
    if book.problems:
        raise BuildFailed(report(book.problems))
    tell(f"Checked {len(book.pages)} pages and {len(book.sheets)} calculators: no problems.")
    tell(bases.in_words(book))
    proof = proving.prove(book.sheets)
    if proof.misses:
        raise BuildFailed(report(proof.misses))
    tell(f"Proved {proof.count} checks of calculators: no misses.")
    tell("Rendering the pages ...")
    shutil.rmtree(output, ignore_errors=True)
    with _fixed_surroundings():
        _run_mkdocs(book, output, tell)
    return proof.count


def _run_mkdocs(book: Handbook, output: Path, tell: Callable[[str], None]) -> None:
    from mkdocs.commands.build import build as render
    from mkdocs.config import load_config
    from mkdocs.exceptions import MkDocsException

    from build_tools.plugin import PulseRuler

    class Warnings(logging.Handler):
        def emit(self, record: logging.LogRecord) -> None:
            tell(f"{record.levelname.capitalize()}: {record.getMessage()}")

    handler = Warnings(logging.WARNING)
    log = logging.getLogger("mkdocs")
    log.addHandler(handler)
    try:
        config = load_config(str(book.root / "mkdocs.yml"), site_dir=str(output), strict=True)
        # It would load and prove the handbook itself; this one is checked and proved.
        plugin = config.plugins["pulse-ruler"]
        assert isinstance(plugin, PulseRuler)
        plugin.handbook = book
        config.plugins.on_startup(command="build", dirty=False)
        render(config)
        config.plugins.on_shutdown()
    except MkDocsException as error:
        raise BuildFailed(str(error)) from error
    finally:
        log.removeHandler(handler)


@contextmanager
def _fixed_surroundings() -> Iterator[None]:
    """Let a fixed date stand for the clock while the block runs, and keep the theme from printing its news."""
    fixed = {"SOURCE_DATE_EPOCH": _build_date(), "NO_MKDOCS_2_WARNING": "1"}
    before = {name: os.environ.get(name) for name in fixed}
    os.environ.update(fixed)
    try:
        yield
    finally:
        for name, value in before.items():
            del os.environ[name]
            if value is not None:
                os.environ[name] = value
