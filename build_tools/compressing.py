"""The site's texts compressed beforehand, each beside its plain file: a server only picks, and packs nothing itself."""

from __future__ import annotations

import gzip
import io
from pathlib import Path

import zopfli.gzip
import zstandard

SUFFIX = ".gz"
# Pictures are packed already; so are the engines, which the page unpacks itself whatever the server does.
KINDS = frozenset({".html", ".css", ".js", ".json", ".svg", ".txt", ".xml", ".webmanifest"})
# What fits into one packet comes no sooner for being smaller.
SMALLEST = 1000


def compress(site_dir: Path | str) -> None:
    """Write NAME.gz beside every text of a site that gains by it."""
    for path in sorted(Path(site_dir).rglob("*")):
        if path.suffix in KINDS and path.stat().st_size >= SMALLEST:
            path.with_name(path.name + SUFFIX).write_bytes(packed(path.read_bytes()))


def packed(content: bytes) -> bytes:
    """Compress the same bytes to the same bytes: no date and no file name inside."""
    buffer = io.BytesIO()
    with gzip.GzipFile(filename="", mode="wb", compresslevel=9, fileobj=buffer, mtime=0) as file:
        file.write(content)
    return buffer.getvalue()


def packed_closely(content: bytes) -> bytes:
    """Compress by trying every way of gzip: a twentieth smaller, and so slow that it is for what is packed once."""
    return bytes(zopfli.gzip.compress(content))


def packed_by_zstd(content: bytes) -> bytes:
    """Compress by a way that browsers need a library for: a fifth smaller, and the same bytes each time."""
    return zstandard.ZstdCompressor(level=19).compress(content)
