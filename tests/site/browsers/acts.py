"""What readers do alike on the site and in the portable edition, and where on the page they do it."""

from __future__ import annotations

from tests.site.browsers.reader import Reader

PRESSURE = "calculators/pressure.html"
FORM = '[data-calculator="mean_arterial_pressure"]'
NUMBER = f'{FORM} [data-output="one_third"] .calculator-number'
ENGINE = f"{FORM} .calculator-engine"


def enter(reader: Reader, **entries: str) -> None:
    for name, text in entries.items():
        reader.type(f'{FORM} input[name="{name}"]', text)


def find_by_another_name(reader: Reader, field: str, results: str) -> None:
    """Search for a page by a misspelt other name, and go there. field, results: selectors of where."""
    reader.type(field, "water hamer")
    found = f'{results} a[href$="findings/collapsing-pulse.html"]'
    reader.wait_for_text(found, "ollapsing pulse")
    reader.follow(found)
    assert "ollapsing pulse" in reader.text("h1")
