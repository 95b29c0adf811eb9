"""A web server behind a slow line: so much a second for all that is sent, and a delay before each answer.

The line is slow at its source, so it is slow for pages, workers and service workers alike.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from build_tools.server import SiteHandler, SiteServer, in_background

BYTES_A_SECOND = 10_000_000 / 8
DELAY = 0.040  # seconds: once for a new connection, once for each answer
PIECE = 4096
# Kinds that our own site does not hold; the stock loader insists on their types.
STOCK_TYPES = {".mjs": "text/javascript", ".wasm": "application/wasm"}


@dataclass
class Line:
    """What has gone over the line: (moment, bytes, path) of each piece."""

    slow: bool = True
    sent: list[tuple[float, int, str]] = field(default_factory=list)
    _free: float = 0.0
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def send(self, size: int, path: str) -> None:
        """Wait until so many bytes have gone."""
        with self._lock:
            now = time.monotonic()
            self._free = max(self._free, now) + (size / BYTES_A_SECOND if self.slow else 0)
            until = self._free
            self.sent.append((until, size, path))
        time.sleep(max(0.0, until - now))

    def wait(self) -> None:
        if self.slow:
            time.sleep(DELAY)

    def bytes_until(self, moment: float) -> int:
        return sum(size for when, size, _ in self.sent if when <= moment)

    def by_path(self) -> dict[str, int]:
        total: dict[str, int] = {}
        for _, size, path in self.sent:
            total[path] = total.get(path, 0) + size
        return total


class SlowHandler(SiteHandler):
    """Sends through the line."""

    server: SlowServer

    def setup(self) -> None:
        super().setup()
        self._file = self.wfile
        self.wfile = self  # type: ignore[assignment]
        self.server.line.wait()

    def do_GET(self) -> None:
        self.server.line.wait()
        super().do_GET()

    do_HEAD = do_GET

    def _type_of(self, file: Path) -> str:
        return STOCK_TYPES.get(file.suffix) or super()._type_of(file)

    def write(self, data: bytes) -> int:
        for start in range(0, len(data), PIECE):
            piece = data[start : start + PIECE]
            self.server.line.send(len(piece), self.path)
            self._file.write(piece)
        return len(data)

    def __getattr__(self, name: str) -> Any:
        return getattr(self._file, name)


class SlowServer(SiteServer):
    """Serves a folder over a line."""

    def __init__(self, folder: Path, line: Line) -> None:
        self.line = line
        super().__init__(folder)
        self.RequestHandlerClass = SlowHandler


@contextmanager
def slowly(folder: Path, line: Line) -> Iterator[str]:
    """Serve a folder over a line while the block runs; gives the address of the front page."""
    server = SlowServer(folder, line)
    with in_background(server):
        yield server.address
