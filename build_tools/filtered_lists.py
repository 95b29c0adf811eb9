"""Lists that a reader narrows by typing: findings and conditions from A to Z, calculators under their pages.

Without the page's script they stand in full, in the same groups.
"""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from itertools import groupby
from typing import TYPE_CHECKING

from build_tools.citations import without_marks_and_values
from build_tools.levels import CORE, core_only, level_of, level_word
from build_tools.markup import section_of, strip

if TYPE_CHECKING:
    from build_tools.handbook import Handbook, Page, Sheet


def findings_html(handbook: Handbook) -> str:
    """Give all findings from A to Z with what each is seen, felt or heard as."""
    return _a_to_z(handbook.of_kind("finding"), "sees", "A finding: “bounding”, “cold leg”, “Corrigan”")


def conditions_html(handbook: Handbook) -> str:
    """Give all conditions from A to Z."""
    return _a_to_z(handbook.of_kind("condition"), "", "A condition: “stenosis”, “shock”, “clot”")


def calculators_html(handbook: Handbook) -> str:
    """Give every calculator under the page it stands on, with what it needs and what it gives."""
    ways, parts = [], []
    for page in handbook.of_kind("calculators"):
        rows = "".join(
            _calculator(page, sheet)
            for calculator in page.listed("calculators") if (sheet := handbook.sheets.get(calculator))
        )
        ways.append(f'<li><a href="#{page.slug}">{escape(page.title, quote=False)}</a></li>')
        parts.append(
            f'<section data-list-group aria-labelledby="{page.slug}">'
            f'<h2 id="{page.slug}">{escape(page.title, quote=False)}</h2>\n<ul class="entries">{rows}</ul></section>'
        )
    return _filtered("A calculator: “ankle”, “QT”, “NEWS”, “waist”", "", strip("Groups", ways), parts)


def _filtered(hint: str, tools: str, ways: str, parts: Sequence[str]) -> str:
    """A list that the page's script narrows: the field, what else can be chosen, the ways to its groups, the groups."""
    return (
        '<div data-list data-search-exclude>\n<form class="filter needs-script" data-list-form>'
        f'<label for="list-filter">{escape(hint)}</label><span class="search-row"><input id="list-filter" type="text" '
        'inputmode="search" autocomplete="off" autocapitalize="off" spellcheck="false" data-list-filter></span>'
        f'{tools}<p class="search-count" role="status" data-list-count></p></form>\n{ways}\n'
        + "\n".join(parts)
        + "\n</div>"
    )


def _a_to_z(pages: list[Page], about: str, hint: str) -> str:
    groups = [
        (letter, list(group)) for letter, group in groupby(pages, key=lambda page: page.title[:1].upper())
    ]
    ways = strip("Letters", [f'<li><a href="#{letter}">{letter}</a></li>' for letter, _ in groups], "letters")
    parts = []
    for letter, group in groups:
        rows = "".join(_entry(page, about) for page in group)
        parts.append(
            f'<section class="letter" data-list-group aria-labelledby="{letter}"><h2 id="{letter}">{letter}</h2>'
            f'<ul class="entries">{rows}</ul></section>'
        )
    return _filtered(hint, core_only(pages), ways, parts)


def _entry(page: Page, about: str) -> str:
    words = " ".join(str(alias) for alias in page.listed("aliases"))
    aliases = ", ".join(str(alias) for alias in page.listed("aliases")[:4])
    shown = without_marks_and_values(str(page.meta.get(about) or "")) if about else aliases
    flag = '<span class="list-flag">Red flag</span>' if page.meta.get("red_flag") or page.meta.get("red_flags") else ""
    return (
        f'<li data-level="{level_of(page)}" data-words="{escape(words)}">'
        f'<a href="{page.slug}.html">{escape(page.title)}</a>{flag}'
        f'<span class="list-about">{escape(shown)}</span>'
        f'<span class="list-facts">{level_word(page)}</span></li>'
    )


def _calculator(page: Page, sheet: Sheet) -> str:
    data = sheet.data
    words = " ".join([str(data["asks"]), *map(str, data.get("aliases", []))])
    flag = '<span class="list-flag">Draft</span>' if sheet.is_draft else ""
    return (
        f'<li data-level="{CORE}" data-words="{escape(words)}">'
        f'<a href="{page.slug}.html#{section_of(sheet.id)}">{escape(str(data["title"]))}</a>{flag}'
        f'<span class="list-about">Needs {escape(str(data["needs"]))}. Gives {escape(str(data["gives"]))}.</span></li>'
    )
