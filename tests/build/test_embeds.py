"""Calculators as they stand in a page before any script runs."""

from __future__ import annotations

import re

import pytest

from build_tools import handbook
from build_tools.checks.cautions import GRADES
from build_tools.embeds import calculator_html
from build_tools.environment import ROOT
from calculators.bands import names_numbers

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


# Classes that are names with a numeral, not marks on a scale.
NO_SCALE = {("killip", "class")}


@pytest.mark.parametrize("calculator_id", sorted(BOOK.sheets))
def test_what_has_bands_on_a_scale_is_drawn_on_a_ruler(calculator_id: str) -> None:
    """Each stands once for the result, and in the example with the limits that its result was held against."""
    data = BOOK.sheets[calculator_id].data
    html = calculator_html(BOOK, calculator_id)
    for scheme in data.get("schemes", []):
        if "bands" not in scheme or names_numbers(scheme):
            continue
        for output in (one for one in data["outputs"] if one["id"] in scheme["reads"]):
            if (calculator_id, output["id"]) in NO_SCALE:
                assert "ruler" not in output
                continue
            low, high = output["ruler"]
            edges = [band.get("from", band.get("above")) for band in scheme["bands"]]
            # An edge at an end of the scale draws an empty band.
            assert all(low <= edge < high for edge in edges if edge is not None), (scheme["id"], output["ruler"])
    example = html[html.index("Worked example"):] if "Worked example" in html else ""
    if any("ruler" in output for output in data["outputs"]) and "Figures of the example" in example:
        assert "ruler-marker" in example


def test_limits_for_some_people_have_a_ruler_each_and_only_one_is_shown() -> None:
    """A woman's waist on a man's limits would read too low."""
    html = calculator_html(BOOK, "body_size")
    card = html[html.index('data-output="waist"'):html.index('data-output="waist_to_height"')]
    assert re.findall(r'data-scheme="([^"]+)" hidden', card) == ["waist-english-men", "waist-english-women"]
    assert re.findall(r"On the ruler: ([^<]+)<", card) == ["English limits, men", "English limits, women"]
    assert 'hidden><svg' not in calculator_html(BOOK, "clubbing"), "one ruler for everybody is always there"
