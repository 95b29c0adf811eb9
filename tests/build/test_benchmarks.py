"""The benchmark's own instruments: what they show can be believed."""

from __future__ import annotations

import http.client
import time
from pathlib import Path
from urllib.parse import urlsplit

from tests.benchmarks.slow_server import DELAY, Line, slowly
from tests.benchmarks.table import Row, show


def test_a_megabyte_takes_its_time_on_the_slow_line_and_every_byte_is_counted(tmp_path: Path) -> None:
    (tmp_path / "megabyte.bin").write_bytes(bytes(1_000_000))
    line = Line()
    with slowly(tmp_path, line) as address:
        parts = urlsplit(address)
        connection = http.client.HTTPConnection(parts.hostname or "", parts.port)
        began = time.monotonic()
        connection.request("GET", "/megabyte.bin")
        body = connection.getresponse().read()
        taken = time.monotonic() - began
        connection.close()
    assert len(body) == 1_000_000
    # Never faster than 10 Mbit/s and two delays; a busy machine may be slower.
    assert taken >= 0.8 + 2 * DELAY - 0.005
    assert 1_000_000 < line.bytes_until(float("inf")) < 1_002_000


def test_a_missed_target_shows() -> None:
    text = show([Row("cold", 1.234, "s", "1.0", False), Row("warm", 0.4, "s", "0.5", True), Row("plain", 2.0, "s")])
    cold, warm, plain = text.splitlines()[1:]
    assert cold.split() == ["cold", "1.23", "s", "1.0", "MISSED"]
    assert warm.split() == ["warm", "0.40", "s", "0.5", "reached"]
    assert plain.split() == ["plain", "2.00", "s"]
