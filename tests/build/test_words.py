"""Words: sentences short enough to be read at a bed."""

from __future__ import annotations

import re
from statistics import median

import pytest

from build_tools import handbook
from build_tools.citations import VALUE, without_marks
from build_tools.environment import ROOT
from build_tools.handbook import Page
from build_tools.prose import LINK

BOOK = handbook.load(ROOT, unread_ok=True)
MEDIAN = 20
LONGEST = 50


def sentences(page: Page) -> list[str]:
    """The sentences of a page's own text; tables and single words are none."""
    found = []
    for line in page.prose:
        if line.form == "text" and not line.text.lstrip().startswith("|"):
            words = LINK.sub(r"\2", VALUE.sub("", without_marks(line.text)))
            words = re.sub(r"^\s*(?:[-*]|\d+\.)\s+", "", words)
            found += [one for one in re.split(r"(?<=[.!?])\s+", words) if len(one.split()) > 1]
    return found


@pytest.mark.parametrize("kind", ["step", "finding", "condition", "calculators", "article"])
def test_sentences_are_short(kind: str) -> None:
    """Half of them on each page under twenty words, and none that has to be read twice."""
    lengths = {page.id: [len(one.split()) for one in sentences(page)] for page in BOOK.of_kind(kind)}
    lengths = {name: counted for name, counted in lengths.items() if counted}
    assert lengths
    assert {name: median(counted) for name, counted in lengths.items() if median(counted) >= MEDIAN} == {}
    assert {name: max(counted) for name, counted in lengths.items() if max(counted) > LONGEST} == {}
