"""Each calculator stands where it is needed: on a step, a finding or a condition."""

from __future__ import annotations

from tests.whole import BOOK

# For teachers: nobody at a bedside needs them.
ASIDE = {"borderline_regression"}


def test_every_calculator_is_led_to_from_the_bedside() -> None:
    assert {name for name in BOOK.sheets if not BOOK.measured_on(name)} == ASIDE
    for name in BOOK.sheets.keys() - ASIDE:
        kinds = {page.kind for page in BOOK.measured_on(name)}
        assert kinds & {"step", "condition"}, f"{name} stands on findings alone"
