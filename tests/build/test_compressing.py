"""Texts compressed beforehand: the same words, the same bytes each time, and only where it helps."""

from __future__ import annotations

import gzip
from pathlib import Path

from build_tools import compressing

LONG = "jugular venous pressure " * 100


def test_long_texts_get_a_compressed_twin_and_nothing_else_does(tmp_path: Path) -> None:
    (tmp_path / "deep").mkdir()
    (tmp_path / "deep" / "page.html").write_text(LONG, encoding="utf-8")
    (tmp_path / "short.js").write_text("1", encoding="utf-8")
    (tmp_path / "engine.bin").write_text(LONG, encoding="utf-8")
    compressing.compress(tmp_path)
    [twin] = tmp_path.rglob("*.gz")
    assert twin == tmp_path / "deep" / "page.html.gz"
    assert gzip.decompress(twin.read_bytes()).decode() == LONG


def test_the_same_text_gives_the_same_bytes_at_any_time() -> None:
    packed = compressing.packed(LONG.encode())
    assert packed == compressing.packed(LONG.encode())
    assert packed[3:8] == bytes(5), "neither name nor date"


def test_every_page_and_script_of_the_site_is_there_packed_and_equal(built_site: Path) -> None:
    texts = [path for path in built_site.rglob("*") if path.suffix in compressing.KINDS]
    twins = [path for path in texts if path.stat().st_size >= compressing.SMALLEST]
    assert {path.suffix for path in twins} >= {".html", ".css", ".js", ".json", ".txt"}
    for path in twins:
        assert gzip.decompress(path.with_name(path.name + ".gz").read_bytes()) == path.read_bytes()
    assert len(list(built_site.rglob("*.gz"))) == len(twins)
