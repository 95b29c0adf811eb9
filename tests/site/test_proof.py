"""The proof on the reader's own device: every check in both engines, and a miss by its name."""

from __future__ import annotations

import gzip
import json
import re
import shutil
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from build_tools import __version__
from build_tools.server import running
from tests.site.conftest import SUB_PATH, Opener

pytestmark = pytest.mark.slow

PROOF = "about/proof.html"


def checks_of(site: Path) -> Path:
    [path] = site.glob("engine/checks.*.bin")
    return path


def prove(page: Page) -> None:
    page.get_by_role("button", name="Prove it on this device").click()
    expect(page.locator("[data-proof-told]")).to_contain_text("on this device", timeout=120_000)


def test_every_check_comes_out_in_both_engines(built_site: Path, address: str, open_page: Opener) -> None:
    """With the count and the version, and progress on the way."""
    count = len(json.loads(gzip.decompress(checks_of(built_site).read_bytes()))["checks"])
    assert count >= 148
    page = open_page(address + PROOF)
    prove(page)
    told = page.locator("[data-proof-told]")
    expect(told).to_have_text(
        f"Proved on this device: Pulse & Ruler {__version__}, {count} checks in each of 2 engines, no misses."
    )
    lines = page.locator("[data-proof-engines] li")
    expect(lines.nth(0)).to_have_text(
        re.compile(rf"MicroPython [\d.]+: {count} of {count} checks came out as they should\.")
    )
    expect(lines.nth(1)).to_have_text(
        re.compile(rf"Python 3[\d.]+: {count} of {count} checks came out as they should\.")
    )
    expect(page.locator("[data-proof-misses]")).to_be_hidden()


def test_one_altered_expectation_is_a_miss_by_name(built_site: Path, tmp_path: Path, open_page: Opener) -> None:
    """In each engine; the others still come out."""
    site = shutil.copytree(built_site, tmp_path / "site", ignore=shutil.ignore_patterns("*.gz"))
    path = checks_of(site)
    content = json.loads(gzip.decompress(path.read_bytes()))
    altered = next(check for check in content["checks"] if check["request"]["calculator"] == "mean_arterial_pressure")
    altered["expect"]["results"][0][2] += "1"
    path.write_bytes(gzip.compress(json.dumps(content).encode()))
    with running(site, prefix=SUB_PATH) as base:
        page = open_page(base + PROOF)
        prove(page)
        expect(page.locator("[data-proof-told]")).to_contain_text("Do not use the calculators named below")
        misses = page.locator("[data-proof-misses] li")
        expect(misses).to_have_count(2)
        expect(misses.nth(0)).to_contain_text(f"{altered['name']}: answer")
        expect(misses.nth(0)).to_contain_text(altered["expect"]["results"][0][2])
        count = len(content["checks"])
        expect(page.locator("[data-proof-engines] li").nth(1)).to_contain_text(f"{count - 1} of {count} checks")


def test_an_engine_that_cannot_come_is_said(built_site: Path, tmp_path: Path, open_page: Opener) -> None:
    """The proof is then not made, and the other engine's part still is."""
    site = shutil.copytree(built_site, tmp_path / "site", ignore=shutil.ignore_patterns("*.gz"))
    [lost] = site.glob("engine/pyodide.*.bin")
    lost.unlink()
    with running(site, prefix=SUB_PATH) as base:
        page = open_page(base + PROOF, faults=True)
        prove(page)
        expect(page.locator("[data-proof-told]")).to_contain_text("One engine could not finish.")
        lines = page.locator("[data-proof-engines] li")
        expect(lines.nth(0)).to_contain_text("checks came out as they should")
        expect(lines.nth(1)).to_contain_text(f"The file {lost.name} is missing on the server")
