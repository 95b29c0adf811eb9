"""Writing with `serve`: a change shows in the open page by itself, a fault leaves the preview as it was."""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

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


def test_a_change_shows_in_the_open_page_and_a_fault_changes_nothing(
    project: Path, address: str, open_page: Callable[..., Page]
) -> None:
    source = project / "content" / "index.md"
    as_it_was = source.read_text(encoding="utf-8")

    def write(sentence: str) -> None:
        source.write_text(as_it_was.replace("\n---\n", f"\n---\n{sentence}\n", 1), encoding="utf-8")

    page = open_page(address)
    write("The first sentence of a new page.")
    expect(page.get_by_text("The first sentence of a new page.")).to_be_visible(timeout=60_000)
    write("See [a page](nowhere.md).")
    page.wait_for_timeout(5000)
    expect(page.get_by_text("The first sentence of a new page.")).to_be_visible()
    write("A better sentence.")
    expect(page.get_by_text("A better sentence.")).to_be_visible(timeout=60_000)
    assert not (project / "site").exists(), "serve must not touch the published site"
