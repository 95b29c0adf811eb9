"""Lists that make themselves: steps in order, findings and conditions from A to Z, calculators, red flags.

A page asks for one with a fenced block ```listing and the list's name in it. Links are relative to the folder
that the list belongs to, where its index page stands. Marks stay in the text for the page to number.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from html import escape
from itertools import groupby
from typing import TYPE_CHECKING

from build_tools.bases import bases_html
from build_tools.body_map import map_html, regions_html
from build_tools.levels import core_only, level_of, level_word
from build_tools.markup import section_of, strip
from build_tools.offline import offline_html
from build_tools.proof import proof_html
from build_tools.step_lists import running_order_html, steps_html
from build_tools.values_page import values_html

if TYPE_CHECKING:
    from build_tools.handbook import Handbook, Page

# The types of entry that each part of the list of sources holds; what is in none comes last.
SOURCE_KINDS = (
    ("Papers", ("article",)),
    ("Books and chapters", ("book", "inbook", "incollection")),
    ("Guidelines, reports and others", ()),
)
SPEEDS = ("now", "within the hour", "same day", "within two weeks")

_TAG = re.compile(r"<[^>]+>")
_MARK_OR_VALUE = re.compile(r"\s*\[[^\]]*\]|\{\{[^}]*\}\}")


def findings_html(handbook: Handbook) -> str:
    """Give all findings from A to Z with what each is seen, felt or heard as."""
    return _a_to_z(handbook.of_kind("finding"), "sees", "A finding: “bounding”, “cold leg”, “Corrigan”")


def conditions_html(handbook: Handbook) -> str:
    """Give all conditions from A to Z."""
    return _a_to_z(handbook.of_kind("condition"), "", "A condition: “stenosis”, “shock”, “clot”")


def calculators_html(handbook: Handbook) -> str:
    """Give every calculator with the question it answers, under the page it stands on."""
    ways, parts = [], []
    for page in handbook.of_kind("calculators"):
        title = escape(page.title, quote=False)
        rows = [
            f'<li><a href="{page.slug}.html#{section_of(calculator)}">{escape(str(sheet.data["title"]))}</a>'
            f'<span class="list-about">{escape(str(sheet.data["asks"]))}</span></li>'
            for calculator in page.listed("calculators")
            if (sheet := handbook.sheets.get(calculator))
        ]
        ways.append(f'<li><a href="#{page.slug}">{title}</a></li>')
        parts.append(f'<h2 id="{page.slug}">{title}</h2>\n<ul class="entries">\n{"".join(rows)}\n</ul>')
    return strip("Groups", ways) + "\n".join(parts)


def red_flags_html(handbook: Handbook) -> str:
    """Give every red flag, the most urgent first."""
    flags = sorted(handbook.red_flags.values(), key=lambda flag: SPEEDS.index(flag["speed"]))
    rows = []
    for speed, group in groupby(flags, key=lambda flag: str(flag["speed"])):
        items = "".join(
            f'<li><strong>{escape(flag["what"])}</strong> {escape(flag["act"])}</li>' for flag in group
        )
        rows.append(f"<h2>{escape(speed.capitalize())}</h2>\n<ul>{items}</ul>")
    return "\n".join(rows)


def sources_html(handbook: Handbook) -> str:
    """Give every reference that can be cited, folded by its kind, by its first author or publisher."""
    entries = handbook.references.entries
    lines = handbook.references.formatted(entries)
    kinds = {kind: words for words, kinds in SOURCE_KINDS for kind in kinds}
    parts = []
    for words, _ in SOURCE_KINDS:
        keys = [key for key in lines if kinds.get(entries[key].type, SOURCE_KINDS[-1][0]) == words]
        rows = []
        for key in sorted(keys, key=lambda key: _sort_words(lines[key])):
            note = entries[key].note
            told = f' <span class="reference-note">({escape(note, quote=False)})</span>' if note else ""
            rows.append(f"<li>{lines[key]}{told}</li>")
        if rows:
            parts.append(
                f'<details class="sources"><summary>{words}: {len(rows)}</summary>\n'
                f'<ul class="references">\n{"".join(rows)}\n</ul></details>'
            )
    return f"<div data-search-exclude>{''.join(parts)}</div>"


LISTINGS: dict[str, Callable[[Handbook], str]] = {
    "steps": steps_html,
    "running-order": running_order_html,
    "findings": findings_html,
    "conditions": conditions_html,
    "calculators": calculators_html,
    "values": values_html,
    "red-flags": red_flags_html,
    "sources": sources_html,
    "bases": bases_html,
    "body-map": map_html,
    "regions": regions_html,
    "proof": proof_html,
    "offline": offline_html,
}


def _a_to_z(pages: list[Page], about: str, hint: str) -> str:
    groups = [
        (letter, list(group)) for letter, group in groupby(pages, key=lambda page: page.title[:1].upper())
    ]
    letters = [f'<li><a href="#{letter}">{letter}</a></li>' for letter, _ in groups]
    parts = []
    for letter, group in groups:
        rows = "".join(_entry(page, about) for page in group)
        parts.append(
            f'<section class="letter" data-list-group aria-labelledby="{letter}"><h2 id="{letter}">{letter}</h2>'
            f'<ul class="entries">{rows}</ul></section>'
        )
    return (
        '<div data-list data-search-exclude>\n<form class="filter needs-script" data-list-form>'
        f'<label for="list-filter">{escape(hint)}</label><span class="search-row"><input id="list-filter" type="text" '
        'inputmode="search" autocomplete="off" autocapitalize="off" spellcheck="false" data-list-filter></span>'
        f"{core_only(pages)}"
        '<p class="search-count" role="status" data-list-count></p></form>\n'
        + strip("Letters", letters, "letters")
        + "\n".join(parts)
        + "\n</div>"
    )


def _entry(page: Page, about: str) -> str:
    words = " ".join(str(alias) for alias in page.listed("aliases"))
    shown = _plain(page.meta.get(about, "")) if about else ", ".join(str(alias) for alias in page.listed("aliases")[:4])
    flag = '<span class="list-flag">Red flag</span>' if page.meta.get("red_flag") or page.meta.get("red_flags") else ""
    return (
        f'<li data-level="{level_of(page)}" data-words="{escape(words)}">'
        f'<a href="{page.slug}.html">{escape(page.title)}</a>{flag}'
        f'<span class="list-about">{escape(shown)}</span>'
        f'<span class="list-facts">{level_word(page)}</span></li>'
    )


def _sort_words(line: str) -> str:
    return _TAG.sub("", line).casefold()


def _plain(text: object) -> str:
    """Leave marks and quoted values out: the page that the row leads to has them."""
    return _MARK_OR_VALUE.sub("", str(text or "")).strip()
