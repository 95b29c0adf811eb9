"""The plugin: a plain `mkdocs build` checks and proves too, and renders every page of the handbook."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from mkdocs.commands.build import build
from mkdocs.config import load_config
from mkdocs.exceptions import Abort

from build_tools import handbook, plugin
from build_tools.environment import ROOT

NAVIGATION = """\
nav:
  - index.md
  - Examination:
      - examination/tiny-step.md
"""


@pytest.fixture
def settings() -> str:
    """The project's own settings with the navigation of the tiny handbook."""
    text = (ROOT / "mkdocs.yml").read_text(encoding="utf-8")
    return text[: text.index("\nnav:\n") + 1].replace("build_tools/web", str(ROOT / "build_tools/web")) + NAVIGATION


def test_a_handbook_with_problems_is_not_rendered(
    tiny: Callable[..., Path], settings: str, caplog: pytest.LogCaptureFixture
) -> None:
    """The whole list comes at once, before any page is made, also without our own command line."""
    root = tiny(("mkdocs.yml", None, settings), ("content/index.md", "kind: article", "kind: artikel"))
    config = load_config(str(root / "mkdocs.yml"), site_dir=str(root / "out"))
    with pytest.raises(Abort):
        build(config)
    assert 'kind "artikel" is unknown' in caplog.text and "second time" in caplog.text
    assert caplog.text.rstrip().endswith("4 problems in 4 files.")
    assert not (root / "out").exists()


def test_every_page_is_rendered_once(tiny: Callable[..., Path], settings: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Pages come out in full; data files and what authors write for themselves stay behind."""
    # The browser engines are no part of this handbook, and tests/site looks at them.
    monkeypatch.setattr(plugin.runtime, "bundle", lambda book, site_dir: None)
    # The frame of a page leads to pages that the tiny handbook does not have.
    monkeypatch.setattr(plugin.search, "write_index", lambda book, site_dir: None)
    root = tiny(("mkdocs.yml", None, settings))
    config = load_config(str(root / "mkdocs.yml"), site_dir=str(root / "out"), strict=True)
    config.plugins["pulse-ruler"].handbook = handbook.load(root, unread_ok=True)
    build(config)
    pages = {path.relative_to(root / "out").as_posix() for path in (root / "out").rglob("*.html")}
    assert {f"{name}.html" for name in handbook.load(root).pages} <= pages
    assert not [path for path in (root / "out").rglob("*") if path.suffix in (".toml", ".bib", ".md")]
    step = (root / "out/examination/tiny-step.html").read_text(encoding="utf-8")
    assert step.count("<h1") == 1 and step.count('class="summary"') == 1
    assert len(re.findall(r'<h2 id="', step)) == 10
