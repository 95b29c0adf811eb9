"""What a reader does most, in every browser there is a driver for: the pages, both engines, search and keeping."""

from __future__ import annotations

import gzip
import json
import re
import shutil
from pathlib import Path

import pytest

from build_tools.server import SiteServer, in_background, running
from tests.site.browsers.acts import ENGINE, FORM, NUMBER, PRESSURE, enter, find_by_another_name
from tests.site.browsers.reader import Reader
from tests.site.conftest import SUB_PATH

pytestmark = pytest.mark.slow


def test_reads_a_step_and_goes_on_to_a_finding(reader: Reader, site: str) -> None:
    """Nothing on the way comes from elsewhere."""
    reader.open(site + "index.html")
    reader.follow('a[href="examination/index.html"]')
    reader.follow('article a[href="pulse-character.html"]')
    assert reader.text("h1") == "Pulse character"
    assert reader.shown(".references li")
    reader.follow('article a[href="../findings/collapsing-pulse.html"]')
    assert "ollapsing pulse" in reader.text("h1")
    came = reader.run("return performance.getEntriesByType('resource').map((one) => one.name)")
    assert came
    assert [address for address in came if not address.startswith(site)] == []


def test_computes_and_both_engines_agree(reader: Reader, site: str) -> None:
    reader.open(site + PRESSURE)
    enter(reader, systolic_mmhg="120", diastolic_mmhg="80")
    reader.wait_for_text(NUMBER, "93")
    line = reader.wait_for_text(ENGINE, "gives the same")
    assert re.fullmatch(r"Worked out on this device by MicroPython [\d.]+\. Python 3[\d.]+ gives the same\.", line)


def test_is_told_what_is_wrong_with_an_entry(reader: Reader, site: str) -> None:
    """In the summary, which takes the focus, and beside the field."""
    reader.open(site + PRESSURE)
    enter(reader, systolic_mmhg="1200", diastolic_mmhg="80")
    reader.press(f"{FORM} button[type=submit]")
    reader.wait_for_text(f'{FORM} [data-field="systolic_mmhg"] .calculator-fault', "1200")
    reader.wait("return document.activeElement?.closest('.calculator-faults') !== null")
    assert not reader.shown(NUMBER)


def test_searches_by_another_name(reader: Reader, site: str) -> None:
    reader.open(site + "index.html")
    find_by_another_name(reader, "#search-here", ".search-here .search-results")


def test_narrows_the_normal_values(reader: Reader, site: str) -> None:
    reader.open(site + "values/index.html")
    shown = "return document.querySelectorAll('[data-value]:not([hidden])').length"
    everything = reader.run(shown)
    reader.type("#values-filter", "heart rate 54")
    narrowed = reader.run(shown)
    assert 0 < narrowed < everything
    reader.wait_for_text("[data-value]:not([hidden]) [data-verdict]:not([hidden])", "54 lies")


def test_opens_a_link_that_carries_entries(reader: Reader, site: str) -> None:
    reader.open(f"{site}{PRESSURE}#sum=mean_arterial_pressure&format=1&systolic_mmhg=120&diastolic_mmhg=80")
    reader.wait_for_text(NUMBER, "93")


def test_proves_a_sample_of_the_checks_on_the_device(reader: Reader, watched_site: Path, tmp_path: Path) -> None:
    """A sample, since all of them take a minute in the slowest browser; test_proof.py runs them all in Chromium."""
    copy = shutil.copytree(watched_site, tmp_path / "site")
    [path] = copy.glob("engine/checks.*.bin")
    sample = json.loads(gzip.decompress(path.read_bytes()))["checks"][::20]
    path.write_bytes(gzip.compress(json.dumps({"checks": sample}).encode()))
    with running(copy, prefix=SUB_PATH) as base:
        reader.open(base + "about/proof.html")
        reader.press("[data-proof-start]")
        told = reader.wait_for_text("[data-proof-told]", "on this device")
    assert f", {len(sample)} checks in each of 2 engines, no misses." in told


def test_is_dark_as_the_device_and_light_when_asked(reader: Reader, site: str) -> None:
    """The choice holds on the next page."""
    light = """
        const [red, green, blue] = getComputedStyle(document.body).backgroundColor.match(/[0-9.]+/g).map(Number);
        return (red + green + blue) / 3;
    """
    reader.open(site + "index.html")
    assert reader.run(light) < 60
    reader.press("[data-scheme-button]")
    assert reader.run(light) > 200
    reader.open(site + PRESSURE)
    assert reader.run(light) > 200
    reader.run("localStorage.clear()")


def test_is_told_of_a_missing_engine_and_answered_by_the_other(
    reader: Reader, watched_site: Path, tmp_path: Path
) -> None:
    copy = shutil.copytree(watched_site, tmp_path / "site")
    [lost] = copy.glob("engine/micropython.*.bin")
    lost.unlink()
    with running(copy, prefix=SUB_PATH) as base:
        reader.open(base + PRESSURE)
        enter(reader, systolic_mmhg="120", diastolic_mmhg="80")
        reader.wait_for_text(NUMBER, "93")
        reader.wait_for_text(ENGINE, f"The file {lost.name} is missing on the server")
        # A hint that names the lost file is noted as well, where the browser says so.
        reader.run("window.pageFaults = window.pageFaults.filter((one) => !one.includes(arguments[0]))", lost.name)


def test_keeps_the_pages_and_reads_on_without_the_server(reader: Reader, watched_site: Path) -> None:
    server = SiteServer(watched_site, prefix="/kept/")
    with in_background(server):
        reader.open(server.address + "about/offline.html")
        reader.wait_for_text("[data-offline-told]", "are kept on this device")
    reader.open(server.address + PRESSURE)
    enter(reader, systolic_mmhg="120", diastolic_mmhg="80")
    reader.wait_for_text(NUMBER, "93")
    reader.follow('a[href="../examination/index.html"]')
    assert reader.text("h1")
