"""When an engine fails, disagrees or is badly served: the reader learns what happened and is never misled."""

from __future__ import annotations

import gzip
import json
import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import expect

from build_tools.server import running
from tests.site.calculators import PRESSURE, calculator, engine_line, enter, expect_agreement, number, spoken
from tests.site.conftest import SUB_PATH, Opener

GOOD = {"systolic_mmhg": "120", "diastolic_mmhg": "80"}


class BadlyServed:
    """A copy of the site whose files can be lost, broken or exchanged."""

    def __init__(self, site: Path) -> None:
        self.site = site

    def find(self, pattern: str) -> Path:
        [path] = self.site.glob(f"engine/{pattern}")
        return path

    def lose(self, pattern: str) -> str:
        path = self.find(pattern)
        path.unlink()
        return path.name

    def alter(self, pattern: str, old: str, new: str) -> None:
        path = self.find(pattern)
        text = path.read_text(encoding="utf-8")
        assert old in text
        path.write_text(text.replace(old, new), encoding="utf-8")

    def give_second_engine(self, pattern: str, old: str, new: str) -> None:
        """Let the second engine alone load a pack in which one text is changed."""
        path = self.find(pattern)
        text = gzip.decompress(path.read_bytes()).decode()
        assert old in text
        changed = path.with_name("changed.bin")
        changed.write_bytes(gzip.compress(text.replace(old, new).encode()))
        page = self.site / PRESSURE
        html = page.read_text(encoding="utf-8")
        block = re.search(r'id="engine-files">(.*?)</script>', html)
        assert block
        files = json.loads(block.group(1))
        for pack in files["engines"][1]["packs"]:
            if pack["name"] == path.name:
                pack["name"] = changed.name
        page.write_text(html.replace(block.group(1), json.dumps(files)), encoding="utf-8")


@pytest.fixture
def badly(built_site: Path, tmp_path: Path) -> BadlyServed:
    # Without the compressed files, so that a changed file has no unchanged twin.
    ignore = shutil.ignore_patterns("*.gz")
    return BadlyServed(shutil.copytree(built_site, tmp_path / "site", ignore=ignore))


@pytest.fixture
def place(badly: BadlyServed) -> Iterator[str]:
    with running(badly.site, prefix=SUB_PATH) as base:
        yield base + PRESSURE


def test_disagreement_shows_both_and_advises_to_use_neither(
    badly: BadlyServed, place: str, open_page: Opener
) -> None:
    """One engine is served a formula with a quarter in the place of a third."""
    badly.give_second_engine("mean_arterial_pressure.*.bin", "pulse_pressure / 3", "pulse_pressure / 4")
    form = calculator(open_page(place))
    enter(form, GOOD)
    dispute = form.locator(".calculator-dispute")
    expect(dispute).to_contain_text("Do not use either answer", timeout=30_000)
    expect(dispute).to_contain_text(re.compile(r"MicroPython [\d.]+: .*93 mmHg"))
    expect(dispute).to_contain_text(re.compile(r"Python 3[\d.]+: .*90 mmHg"))
    expect(spoken(form)).to_contain_text("Do not use either answer")
    expect(number(form, "one_third")).to_be_hidden()
    expect(form.get_by_role("button", name="Copy as text")).to_be_hidden()


def test_second_engine_takes_the_place_of_the_first(badly: BadlyServed, place: str, open_page: Opener) -> None:
    """The answer comes all the same, and the line names the file that is missing."""
    lost = badly.lose("micropython.*.bin")
    form = calculator(open_page(place, faults=True))
    enter(form, GOOD)
    expect(number(form, "one_third")).to_have_text("93", timeout=30_000)
    expect(engine_line(form)).to_have_text(
        re.compile(rf"by Python 3[\d.]+\. Not checked by a second engine: The file {re.escape(lost)} is missing")
    )


def test_page_without_engines_says_so_and_keeps_the_formula(
    badly: BadlyServed, built_site: Path, place: str, open_page: Opener
) -> None:
    """The first cause is named, what was typed stays, and trying again works once the file is back."""
    lost = badly.lose("micropython.*.bin")
    badly.lose("pyodide.*.bin")
    form = calculator(open_page(place, faults=True))
    enter(form, GOOD)
    line = engine_line(form)
    expect(line).to_contain_text("This page cannot calculate now", timeout=30_000)
    expect(line).to_contain_text(f"The file {lost} is missing on the server (status 404)")
    expect(line).to_contain_text("The formula below still holds")
    assert form.locator(".calculator-equation").count() > 0
    shutil.copy(built_site / "engine" / lost, badly.site / "engine" / lost)
    form.get_by_role("button", name="Try again").click()
    expect(number(form, "one_third")).to_have_text("93", timeout=30_000)


@pytest.mark.parametrize(
    ("content", "cause"),
    [
        (b"<!doctype html><title>Sign in</title>", "sent a web page in place of the file"),
        (b"", "is empty on the server"),
        (b"something else", "its first bytes are wrong"),
        (None, "arrived broken"),
    ],
    ids=["sign-in page", "empty", "other bytes", "cut short"],
)
def test_wrong_file_names_its_cause(
    content: bytes | None, cause: str, badly: BadlyServed, place: str, open_page: Opener
) -> None:
    """Status 200 and the wrong bytes is what proxies and broken copies give."""
    badly.lose("pyodide.*.js")
    path = badly.find("micropython.*.bin")
    whole = path.read_bytes()
    path.write_bytes(whole[: len(whole) // 2] if content is None else content)
    form = calculator(open_page(place, faults=True))
    enter(form, GOOD)
    expect(engine_line(form)).to_contain_text(cause, timeout=30_000)
    expect(engine_line(form)).to_contain_text(path.name)


@pytest.mark.parametrize("pattern", ["pyodide.*.bin", "python-library.*.bin"])
def test_cut_file_of_the_second_engine_names_its_cause(
    pattern: str, badly: BadlyServed, place: str, open_page: Opener
) -> None:
    """It is unpacked by a library, not by the browser: the fault is told all the same, and the first answer stands."""
    path = badly.find(pattern)
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])
    form = calculator(open_page(place, faults=True))
    enter(form, GOOD)
    expect(number(form, "one_third")).to_have_text("93")
    expect(engine_line(form)).to_contain_text(f"The file {path.name} arrived broken", timeout=30_000)


def test_file_unpacked_on_the_way_is_taken_as_it_is(badly: BadlyServed, place: str, open_page: Opener) -> None:
    """Some servers and proxies unpack what they take for a compressed transfer."""
    badly.lose("pyodide.*.js")
    for pattern in ("micropython.*.bin", "core-compiled.*.bin"):
        path = badly.find(pattern)
        path.write_bytes(gzip.decompress(path.read_bytes()))
    form = calculator(open_page(place, faults=True))
    enter(form, GOOD)
    expect(number(form, "one_third")).to_have_text("93")


def test_missing_worker_script_is_named(badly: BadlyServed, place: str, open_page: Opener) -> None:
    """A worker that can't be loaded says nothing itself."""
    badly.lose("pyodide.*.js")
    lost = badly.lose("micropython.*.js")
    form = calculator(open_page(place, faults=True))
    enter(form, GOOD)
    expect(engine_line(form)).to_contain_text(f"The file {lost} is missing on the server", timeout=30_000)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("limit", "stuck", "told"),
    [
        ("download: 30", "const wasm = await open(", "No more of the calculation engine came in"),
        ("load: 20", "python.run(", "The calculation engine did not load the formulas"),
        ("ready: 10", 'postMessage({ kind: "answer"', "The calculation engine did not answer"),
    ],
    ids=["download", "load", "ready"],
)
def test_stuck_engine_is_ended(
    limit: str, stuck: str, told: str, badly: BadlyServed, place: str, open_page: Opener
) -> None:
    """An engine that stands still is ended after its time, and the other one answers."""
    badly.alter("calculator.*.js", limit, limit.split(":")[0] + ": 2")
    badly.alter("micropython.*.js", stuck, "for (;;); " + stuck)
    form = calculator(open_page(place))
    enter(form, GOOD)
    expect(number(form, "one_third")).to_have_text("93", timeout=30_000)
    expect(engine_line(form)).to_contain_text(f"{told} within 2 seconds")


def test_engine_that_breaks_while_starting_names_its_cause(badly: BadlyServed, place: str, open_page: Opener) -> None:
    """Pyodide leaves its promise unsettled when it breaks; the fault is caught all the same."""
    badly.lose("micropython.*.bin")
    badly.alter("pyodide.*.js", '"abi_version": "', '"abi_version": "other ')
    form = calculator(open_page(place, faults=True))
    enter(form, GOOD)
    expect(engine_line(form)).to_contain_text("This page cannot calculate now", timeout=30_000)


@pytest.mark.slow
def test_fault_in_a_formula_leaves_the_page_alive(badly: BadlyServed, place: str, open_page: Opener) -> None:
    """The second engine breaks on a question; the first one's answer stands, and is said to be unchecked."""
    badly.give_second_engine("mean_arterial_pressure.*.bin", "pulse_pressure / 3", "pulse_pressure / thirds")
    form = calculator(open_page(place))
    enter(form, GOOD)
    expect(number(form, "one_third")).to_have_text("93")
    expect(engine_line(form)).to_contain_text("The second engine could not check it", timeout=30_000)


def test_progress_is_told_when_it_takes_long(badly: BadlyServed, place: str, open_page: Opener) -> None:
    """In words and megabytes, once the reader has waited a second."""
    page = open_page(place, faults=True, script="""
      const post = Worker.prototype.postMessage;
      Worker.prototype.postMessage = function (message) { if (message.kind !== "start") post.call(this, message); };
    """)
    form = calculator(page)
    enter(form, {"systolic_mmhg": "120"})
    expect(engine_line(form)).to_have_text(
        re.compile(r"The calculation engine is coming in: 0\.00 of 0\.\d\d MB\."), timeout=5_000
    )


def test_server_with_wrong_types_still_works(built_site: Path, open_page: Opener) -> None:
    """Everything but the pages comes as plain text, engines and scripts too."""
    with running(built_site, prefix=SUB_PATH, wrong_types=True) as base:
        form = calculator(open_page(base + PRESSURE, faults=True))
        enter(form, GOOD)
        expect(number(form, "one_third")).to_have_text("93")
        expect_agreement(form)
