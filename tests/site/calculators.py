"""Filling in and reading a calculator in the browser, in words the tests share."""

from __future__ import annotations

import re

from playwright.sync_api import Locator, Page, expect

PRESSURE = "calculators/pressure.html"
LEG = "calculators/leg-pressure.html"
NECK = "calculators/venous-pressure.html"


def calculator(page: Page, name: str = "mean_arterial_pressure") -> Locator:
    return page.locator(f'[data-calculator="{name}"]')


def enter(form: Locator, entries: dict[str, str]) -> None:
    """Type into fields by the door's names; an answer that is no number is chosen instead, a question tapped."""
    for name, text in entries.items():
        field = form.locator(f'[name="{name}"]')
        other = form.locator(f'[data-field="{name}"] select')
        if text and field.first.get_attribute("type") == "radio":
            form.locator(f'input[name="{name}"][value="{text}"]').check()
        elif text and other.count() and other.locator(f'option[value="{text}"]').count():
            other.select_option(text)
        else:
            field.fill(text)


def spoken(form: Locator) -> Locator:
    return form.locator(".calculator-spoken")


def engine_line(form: Locator) -> Locator:
    return form.locator(".calculator-engine")


def number(form: Locator, output: str, side: str = "") -> Locator:
    return form.locator(f'[data-output="{output}"][data-side="{side}"] .calculator-number')


def fault(form: Locator, field: str) -> Locator:
    return form.locator(f'[data-field="{field}"] .calculator-fault')


def expect_agreement(form: Locator) -> None:
    """Wait until the second engine has said the same."""
    expect(engine_line(form)).to_have_text(
        re.compile(r"Worked out on this device by MicroPython [\d.]+\. Python [\d.]+ gives the same\."), timeout=30_000
    )
