"""A finished site as something to hand on: a zip for whoever publishes it, or the portable edition."""

from __future__ import annotations

import shutil
import zipfile
from pathlib import Path

from build_tools import __date__, __version__, portable
from build_tools.environment import Advice
from build_tools.placing import files_of

NAME = f"pulse-ruler-{__version__}"


def pack_site(site: Path, to: Path) -> Path:
    """Pack a site as it is; gives the zip."""
    to.mkdir(parents=True, exist_ok=True)
    return _zipped(site, to / f"{NAME}.zip")


def pack_portable(site: Path, to: Path) -> tuple[Path, Path]:
    """Make the portable edition of a site; gives its folder and its zip. An earlier one is replaced when it is whole.

    Raises Advice when something else stands in its place.
    """
    to.mkdir(parents=True, exist_ok=True)
    folder = to / f"{NAME}-portable"
    if folder.exists() and not (folder / portable.READ_ME).is_file():
        raise Advice(f"{folder} is something else. Move it away, or name another folder with --to.")
    made = folder.with_name(f"{folder.name}.half")
    shutil.rmtree(made, ignore_errors=True)
    portable.write(site, made)
    shutil.rmtree(folder, ignore_errors=True)
    made.rename(folder)
    return folder, _zipped(folder, to / f"{folder.name}.zip")


def size_of(path: Path) -> int:
    """Bytes of a file, or of all files in a folder."""
    return path.stat().st_size if path.is_file() else sum((path / name).stat().st_size for name in files_of(path))


def _zipped(folder: Path, archive: Path) -> Path:
    """Pack a folder so that it unpacks into one folder: the same files give the same bytes."""
    year, month, day = map(int, __date__.split("-"))
    half = archive.with_suffix(".half")
    with zipfile.ZipFile(half, "w") as made:
        for name in sorted(files_of(folder)):
            entry = zipfile.ZipInfo(f"{archive.stem}/{name}", (year, month, day, 0, 0, 0))
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.create_system = 3  # Unix, whatever this runs on
            entry.external_attr = 0o644 << 16
            made.writestr(entry, (folder / name).read_bytes(), compresslevel=9)
    half.replace(archive)
    return archive
