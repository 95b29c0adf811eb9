"""Each calculator stands where it is needed: on a step, a finding or a condition."""

from __future__ import annotations

from build_tools import handbook
from build_tools.environment import ROOT

# For teachers: nobody at a bedside needs them.
ASIDE = {"borderline_regression"}


def test_every_calculator_is_led_to_from_the_bedside() -> None:
    book = handbook.load(ROOT, unread_ok=True)
    assert {name for name in book.sheets if not book.measured_on(name)} == ASIDE
    for name in book.sheets.keys() - ASIDE:
        kinds = {page.kind for page in book.measured_on(name)}
        assert kinds & {"step", "condition"}, f"{name} stands on findings alone"
