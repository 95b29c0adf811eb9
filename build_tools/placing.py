"""Put a finished site where readers find it, so that it is whole at every moment.

A copy that breaks off half way (full disk, pulled plug, lost share) must leave pages whose files all exist.
So nothing is taken away before everything new is there, and a page changes in one step.
"""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from build_tools.compressing import SUFFIX

# A name that carries the hash of its content, such as main.a40c8224.min.css: it never changes.
HASHED = re.compile(r"\.[0-9a-f]{8,64}\.")

# What tells a browser which files belong together. They must not speak of a file that is not there yet.
LAST = ("manifest.webmanifest", "service-worker-off.js", "service-worker.js")

TEMPORARY = ".placing"

# The folder of the site with settings for web servers. Nothing on a page uses it, and no device keeps it.
SERVER_FILES = "server-files"


@dataclass(frozen=True)
class Placed:
    """How many files were written, left alone and removed."""

    written: int
    unchanged: int
    removed: int


def is_hashed(name: str) -> bool:
    """Whether a file name carries the hash of its content, so that it may be kept for ever."""
    return HASHED.search(name) is not None


def is_publishers(name: str) -> bool:
    """Whether a file in the folder of a site would be the publisher's own.

    Names with a dot in front, such as .htaccess or .well-known/, and what IIS reads. The build makes none of them.
    """
    *_, last = parts = name.lower().split("/")
    return any(part.startswith(".") for part in parts) or last == "web.config"


def plain(name: str) -> str:
    """The name of the file that a compressed file stands beside; any other name as it is."""
    return name.removesuffix(SUFFIX)


def place(built: Path, site: Path) -> Placed:
    """Make `site` hold exactly the files of `built`, and what the publisher has put there for the server.

    Files that are the same already are not touched, so their dates stay.
    Raises FileNotFoundError when `built` is no site, so that an empty build can't empty the standing one.
    """
    if not (built / "index.html").is_file():
        raise FileNotFoundError(
            f"{built} holds no index.html, so it is not a finished site. Build it first: python3 -m build_tools build"
        )
    new = files_of(built)
    old = files_of(site) if site.is_dir() else set()
    written = 0
    for name in in_order(new, old):
        if name in old and _same(built / name, site / name):
            continue
        _write(built / name, site / name)
        written += 1
    left_over = {name for name in old - new if not is_publishers(name)}
    gone = sorted(left_over, key=lambda name: (not plain(name).endswith(".html"), name))
    for name in gone:
        # The half-written file of an earlier copy may have been finished and renamed by this one.
        (site / name).unlink(missing_ok=True)
    _remove_empty_folders(site)
    return Placed(written, len(new) - written, len(gone))


def files_of(folder: Path) -> set[str]:
    """Names of all files under a folder, relative to it, with forward slashes."""
    return {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}


def in_order(new: Iterable[str], old: Iterable[str] = ()) -> list[str]:
    """The order in which files are written.

    Hashed files, then other files that pages use, then pages that nothing links to yet, then pages that
    readers have already (they may link to the new ones), the front page after them, the lists of files last.
    """
    standing = set(old)

    def turn(file: str) -> tuple[int, str]:
        # A page and its compressed form are two files, and a server may send either.
        name = plain(file)
        if name in LAST:
            return 5, file
        if name == "index.html":
            return 4, file
        if name.endswith(".html"):
            return (3 if name in standing else 2), file
        return (0 if is_hashed(name) else 1), file

    return sorted(new, key=turn)


def _same(built: Path, placed: Path) -> bool:
    return built.stat().st_size == placed.stat().st_size and built.read_bytes() == placed.read_bytes()


def _write(built: Path, placed: Path) -> None:
    """Copy under a temporary name beside the final one, then rename: a reader sees the old file or the new."""
    placed.parent.mkdir(parents=True, exist_ok=True)
    temporary = placed.with_name(placed.name + TEMPORARY)
    shutil.copyfile(built, temporary)
    os.replace(temporary, placed)


def _remove_empty_folders(site: Path) -> None:
    for folder, _, _ in os.walk(site, topdown=False):
        path = Path(folder)
        # Another program may want a folder of the publisher's that is empty now.
        kept = path == site or is_publishers(path.relative_to(site).as_posix())
        if not kept and not any(path.iterdir()):
            path.rmdir()
