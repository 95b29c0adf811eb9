"""Drafts: seen by who writes, and nowhere in what is built, counted, worked out or proved."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from build_tools import cli, embeds, filtered_lists, handbook, proof, proving, serving
from build_tools.environment import ROOT
from build_tools.handbook import Handbook, Sheet
from tests.whole import BOOK

DRAFTS = ["duke_endocarditis_criteria", "ghent_systemic_score"]
PAGE = "calculators/drafts"


@pytest.fixture(scope="module")
def preview() -> Handbook:
    return handbook.load(ROOT, unread_ok=True, drafts=True)


def test_a_build_and_its_counts_know_no_draft(
    preview: Handbook, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Nothing of a draft is loaded for a build; in the preview none of its checks is counted."""
    built = BOOK
    assert not {page.id for page in built.pages.values() if page.is_draft}
    assert not {name for name, sheet in built.sheets.items() if sheet.is_draft}
    assert sorted(preview.sheets.keys() - built.sheets.keys()) == DRAFTS
    assert preview.pages.keys() - built.pages.keys() == {PAGE}
    assert proving.prove({name: preview.sheets[name] for name in DRAFTS}).count == 0
    assert proof.proved(preview) == proof.proved(built)
    monkeypatch.setattr(handbook, "load_sheets", lambda root, name: built)
    assert cli._calculate(cli._parser().parse_args(["calculate", DRAFTS[1], "hands=both"])) == 1
    assert "no calculator of that name" in capsys.readouterr().err


def test_the_preview_alone_asks_for_drafts(monkeypatch: pytest.MonkeyPatch) -> None:
    commands: list[list[str]] = []

    class Done:
        returncode = 0

    def run(command: list[str], cwd: Path) -> Done:
        commands.append(command)
        return Done()

    monkeypatch.setattr(serving.subprocess, "run", run)
    serving._build(ROOT)
    assert "--drafts" in commands[0]
    assert cli._parser().parse_args(["build"]).drafts is False


def test_the_preview_marks_them(preview: Handbook) -> None:
    """On the page and in the list, before anything is entered."""
    for name in DRAFTS:
        html = embeds.calculator_html(preview, name)
        assert html.index("<strong>Draft.</strong>") < html.index("<form")
    assert filtered_lists.calculators_html(preview).count(">Draft</span>") == len(DRAFTS)


@pytest.mark.slow
@pytest.mark.parametrize("name", DRAFTS)
def test_a_draft_is_sound_but_for_its_sources(preview: Handbook, name: str) -> None:
    """Its form is whole, its own checks hold, and it says which of its figures are remembered."""
    assert preview.problems == []
    sheet = preview.sheets[name]
    data = {key: value for key, value in sheet.data.items() if key != "status"}
    found = proving.prove({name: Sheet(name, sheet.path, data, sheet.lines)})
    assert found.misses == []
    assert found.count > 20
    assert '"memory"' in json.dumps(data)
