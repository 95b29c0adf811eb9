"""The pages of the built site, and what its search finds."""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import Page

RESULTS = "[...document.querySelectorAll('.search-here .search-results li')].map(row => row.querySelector('a').href)"


def all_pages(site: Path) -> list[str]:
    return sorted(path.relative_to(site).as_posix() for path in site.rglob("*.html"))


def results(page: Page, question: str) -> list[str]:
    """Ask, and give the addresses of the results in the site."""
    page.fill("#search-here", question)
    page.wait_for_function("document.querySelector('.search-here .search-count').textContent !== ''")
    base = page.evaluate("new URL('.', location.href).href")
    return [found.removeprefix(base) for found in page.evaluate(RESULTS)]
