"""Calculators as they stand in a page before any script runs."""

from __future__ import annotations

import pytest

from build_tools import handbook
from build_tools.checks.cautions import GRADES
from build_tools.embeds import calculator_html
from build_tools.environment import ROOT

BOOK = handbook.load(ROOT, unread_ok=True)


@pytest.mark.parametrize("calculator_id", sorted(BOOK.sheets))
def test_cautions_keep_their_grade(calculator_id: str) -> None:
    """A Stop or a Get help of a sheet is drawn as one, before the form."""
    html = calculator_html(BOOK, calculator_id)
    before_form = html[: html.index("<form")]
    for caution in BOOK.sheets[calculator_id].data.get("cautions", []):
        opening = f'<div class="admonition {caution["grade"]}"><p class="admonition-title">'
        assert f'{opening}<span class="grade">{GRADES[caution["grade"]]}</span>: ' in before_form


def test_many_answers_are_a_list() -> None:
    """A question with more answers than a screen holds is a list; one with few is a row of taps."""
    page = calculator_html(BOOK, "probability_after_findings")
    assert '<select id="calculator-probability-after-findings-first" name="first"' in page
    assert "radio" not in page
    assert "<select" not in calculator_html(BOOK, "killip")
