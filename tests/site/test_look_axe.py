"""No fault of accessibility that axe knows, on every kind of page, light and dark, on a phone and on a wide screen."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.site.conftest import Opener
from tests.site.test_look import KINDS

AXE = Path(__file__).parent / "node_modules" / "axe-core" / "axe.min.js"
FAULTS = """async () => (await axe.run({ resultTypes: ['violations'] })).violations.flatMap(rule =>
  rule.nodes.map(node => `${rule.id}: ${node.html.slice(0, 160)}`))"""


@pytest.mark.slow
@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [360, 1280])
def test_axe_finds_nothing(open_page: Opener, address: str, width: int, scheme: str) -> None:
    page = open_page(
        f"{address}index.html", viewport={"width": width, "height": 800}, color_scheme=scheme, bypass_csp=True
    )
    axe = AXE.read_text(encoding="utf-8")
    found = {}
    for kind, name in KINDS.items():
        page.goto(address + name)
        page.evaluate(axe)
        if faults := page.evaluate(FAULTS):
            found[kind] = faults
    assert not found


def test_axe_finds_nothing_in_an_open_search_and_a_narrowed_list(open_page: Opener, address: str) -> None:
    page = open_page(f"{address}values/index.html", bypass_csp=True)
    page.fill("#values-filter", "pulse 96")
    page.evaluate(AXE.read_text(encoding="utf-8"))
    assert not page.evaluate(FAULTS)
    page.locator(".thumb-bar [data-search-open]").click()
    page.fill("#search-everywhere", "pulse")
    page.wait_for_selector("dialog .search-results a")
    assert not page.evaluate(FAULTS)
