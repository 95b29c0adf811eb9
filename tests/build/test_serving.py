"""Writing with `serve`: a change shows in the open page by itself, a fault leaves the preview as it was."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import expect, sync_playwright

from build_tools.environment import ROOT
from tests.project_files import bare_copy

pytestmark = pytest.mark.slow


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """A copy of this project, to write in."""
    copy = bare_copy(tmp_path / "copy")
    engines = Path("build_tools/engines/node_modules")
    (copy / engines).symlink_to(ROOT / engines, target_is_directory=True)
    return copy


@pytest.fixture
def address(project: Path) -> Iterator[str]:
    """Where `serve` shows the copy."""
    code = (
        "import sys; from build_tools import serving, cli\n"
        # The copy has no environment of its own, so its builds run in this one.
        "code = 'import sys; from build_tools import cli; sys.exit(cli.main())'\n"
        "serving.BUILD_TOOLS = [sys.executable, '-c', code]\n"
        "cli.main(['serve', '--port', '0'])\n"
    )
    with subprocess.Popen(
        [sys.executable, "-u", "-c", code],
        cwd=project,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        encoding="utf-8",
    ) as serving:
        assert serving.stdout is not None
        printed = []
        for line in serving.stdout:
            printed.append(line)
            if found := re.search(r"The handbook is at (\S+)", line):
                yield found[1]
                break
        else:
            pytest.fail("serve did not start:\n" + "".join(printed))
        serving.terminate()


def test_a_change_shows_in_the_open_page_and_a_fault_changes_nothing(project: Path, address: str) -> None:
    page_source = project / "content" / "index.md"
    as_it_was = page_source.read_text(encoding="utf-8")

    def write(sentence: str) -> None:
        page_source.write_text(as_it_was.replace("\n---\n", f"\n---\n{sentence}\n", 1), encoding="utf-8")

    with sync_playwright() as engine:
        browser = engine.chromium.launch(
            executable_path=shutil.which("chromium"), args=["--no-sandbox", "--disable-gpu"]
        )
        page = browser.new_page()
        page.goto(address)
        expect(page.locator("h1")).to_be_visible()
        write("The first sentence of a new page.")
        expect(page.get_by_text("The first sentence of a new page.")).to_be_visible(timeout=60_000)
        write("See [a page](nowhere.md).")
        page.wait_for_timeout(6000)
        expect(page.get_by_text("The first sentence of a new page.")).to_be_visible()
        write("A better sentence.")
        expect(page.get_by_text("A better sentence.")).to_be_visible(timeout=60_000)
        browser.close()
    assert not (project / "site").exists(), "serve must not touch the published site"
