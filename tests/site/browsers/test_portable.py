"""The portable edition, opened from a disk in every browser: no server, and a folder with an awkward name."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from build_tools import portable
from tests.site.browsers.acts import ENGINE, NUMBER, PRESSURE, enter, find_by_another_name
from tests.site.browsers.reader import Reader, watched

pytestmark = pytest.mark.slow

AWKWARD = "Ward 100% – #1 für Ärzte & more"
# What the engine leaves behind where it has run.
IN_THE_PAGE = "return 'loadMicroPython' in window"
LINKED = PRESSURE + "#sum=mean_arterial_pressure&format=1&systolic_mmhg=120&diastolic_mmhg=80"


@pytest.fixture(scope="session")
def folder(built_site: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("made") / "portable"
    portable.write(built_site, made)
    return watched(made, tmp_path_factory.mktemp("disk") / AWKWARD)


def address(folder: Path, page: str) -> str:
    return f"{folder.as_uri()}/{page}"


def test_reads_and_follows_links(reader: Reader, folder: Path) -> None:
    reader.open(address(folder, "index.html"))
    reader.follow('a[href="examination/index.html"]')
    reader.follow('article a[href="pulse-character.html"]')
    reader.follow('article a[href="../findings/collapsing-pulse.html"]')
    assert "ollapsing pulse" in reader.text("h1")
    assert reader.run("return getComputedStyle(document.body).backgroundColor") != "rgba(0, 0, 0, 0)"
    assert "Portable edition: one engine, no second check." in reader.text(".foot-version")


def test_computes_and_says_that_nothing_checks_it(reader: Reader, folder: Path) -> None:
    reader.open(address(folder, PRESSURE))
    enter(reader, systolic_mmhg="120", diastolic_mmhg="80")
    reader.wait_for_text(NUMBER, "93")
    line = reader.wait_for_text(ENGINE, "Worked out")
    assert re.fullmatch(
        r"Worked out on this device by MicroPython [\d.]+\. Portable edition, one engine: no second check\.", line
    )
    assert not reader.run(IN_THE_PAGE)


def test_searches(reader: Reader, folder: Path) -> None:
    reader.open(address(folder, "findings/index.html"))
    reader.press("[data-search-open]")
    find_by_another_name(reader, "#search-everywhere", ".search-dialog .search-results")


def test_narrows_the_normal_values(reader: Reader, folder: Path) -> None:
    reader.open(address(folder, "values/index.html"))
    reader.type("#values-filter", "heart rate 54")
    reader.wait_for_text("[data-value]:not([hidden]) [data-verdict]:not([hidden])", "54 lies")


def test_opens_a_link_that_carries_entries(reader: Reader, folder: Path) -> None:
    reader.open(address(folder, LINKED))
    reader.wait_for_text(NUMBER, "93")


def test_a_page_that_may_start_no_worker_computes_by_itself(reader: Reader, folder: Path, tmp_path: Path) -> None:
    copy = shutil.copytree(folder, tmp_path / "copy")
    watch = copy / "watch.js"
    refusing = 'window.Worker = class { constructor() { throw new DOMException("no", "SecurityError"); } };\n'
    watch.write_text(refusing + watch.read_text(encoding="utf-8"), encoding="utf-8")
    reader.open(address(copy, LINKED))
    reader.wait_for_text(NUMBER, "93")
    reader.wait_for_text(ENGINE, "no second check")
    assert reader.run(IN_THE_PAGE)


def test_a_folder_that_was_copied_in_part_says_what_is_missing(reader: Reader, folder: Path, tmp_path: Path) -> None:
    copy = shutil.copytree(folder, tmp_path / "copy")
    [lost] = copy.glob("engine/micropython.*.bin.js")
    lost.unlink()
    reader.open(address(copy, LINKED))
    reader.wait_for_text(ENGINE, "This page cannot calculate now", lost.name.removesuffix(".js"), "still holds")
    assert all(lost.name in fault for fault in reader.faults())


def test_the_page_about_keeping_says_that_all_of_it_is_here(reader: Reader, folder: Path) -> None:
    reader.open(address(folder, "about/offline.html"))
    assert "This is the portable edition" in reader.text("article")
    reader.open(address(folder, "about/proof.html"))
    assert "in the one engine of the portable edition" in reader.text("[data-proof-in]")


def test_a_page_may_ask_nothing_of_a_network(reader: Reader, folder: Path) -> None:
    """Its own policy forbids it, for no server sends one."""
    reader.open(address(folder, "index.html"))
    reader.run("new Image().src = 'http://127.0.0.1:9/picture.png'")
    reader.wait("return window.pageFaults.some((fault) => fault.includes('img-src'))")
    reader.run("window.pageFaults = []")
