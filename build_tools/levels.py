"""Levels: what a beginner may leave for later. Each item of a list says its level; a list can be kept to the core."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from build_tools.handbook import Page

CORE = "core"


def level_of(page: Page) -> str:
    return escape(str(page.meta.get("level", CORE)))


def level_word(page: Page) -> str:
    """Return the level of a page as a word to be seen in a list."""
    return f'<span class="level level-{level_of(page)}">{level_of(page)}</span>'


def core_only(pages: Sequence[Page]) -> str:
    """Return the control that keeps a list to its core, for a list that holds more; the page's script heeds it."""
    if all(level_of(page) == CORE for page in pages):
        return ""
    return (
        '<div class="choices"><label><input type="checkbox" data-core-only>'
        "<span>Core only: hide further and specialist</span></label></div>"
    )
