"""An educator adds the calculator that DEVELOPERS.md shows: no part of the build needs to know of it."""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import expect

from build_tools.environment import ROOT
from build_tools.server import running
from tests.documented import CALCULATOR, add_to
from tests.project_files import bare_copy
from tests.site.calculators import calculator, enter, expect_agreement, fault, number, spoken
from tests.site.conftest import SUB_PATH, Opener

pytestmark = pytest.mark.slow

PAGE = "calculators/vital-signs"
# With the code of the copy, in the environment of the original.
BUILD = (
    "from pathlib import Path\n"
    "from build_tools.building import build\n"
    "build(Path.cwd(), Path.cwd() / 'site', unread_ok=True)\n"
)


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """A copy of the handbook with the calculator added, built there and served; ends with a slash."""
    project = bare_copy(tmp_path_factory.mktemp("educator") / "copy")
    engines = Path("build_tools/engines/node_modules")
    shutil.copytree(ROOT / engines, project / engines, symlinks=True)
    add_to(project, f"{PAGE}.md")
    done = subprocess.run([sys.executable, "-c", BUILD], cwd=project, capture_output=True, encoding="utf-8")
    assert done.returncode == 0, done.stdout + done.stderr
    with running(project / "site", prefix=SUB_PATH) as base:
        yield base


def test_it_computes_in_the_browser_in_the_words_of_its_sheet(open_page: Opener, address: str) -> None:
    form = calculator(open_page(f"{address}{PAGE}.html"), CALCULATOR)
    enter(form, {"cigarettes": "15", "years": "30"})
    expect(number(form, "pack_years")).to_have_text("22.5")
    expect(spoken(form)).to_contain_text("That makes 22.5 pack-years.")
    expect(form.locator('[data-output="pack_years"] .calculator-working li')).to_have_text(["15 ÷ 20 × 30 = 22.5"])
    expect_agreement(form)
    enter(form, {"cigarettes": "2000"})
    form.get_by_role("button", name="Work it out").click()
    expect(fault(form, "cigarettes")).to_contain_text("2000")


def test_it_stands_in_the_list_of_calculators(open_page: Opener, address: str) -> None:
    page = open_page(f"{address}calculators/index.html")
    expect(page.get_by_text("Needs cigarettes a day and years. Gives pack-years.")).to_be_visible()
