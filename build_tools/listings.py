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
from build_tools.filtered_lists import calculators_html, conditions_html, findings_html
from build_tools.offline import offline_html
from build_tools.proof import proof_html
from build_tools.step_lists import running_order_html, steps_html
from build_tools.values_page import values_html

if TYPE_CHECKING:
    from build_tools.handbook import Handbook

# The types of entry that each part of the list of sources holds; what is in none comes last.
SOURCE_KINDS = (
    ("Papers", ("article",)),
    ("Books and chapters", ("book", "inbook", "incollection")),
    ("Guidelines, reports and others", ()),
)
SPEEDS = ("now", "within the hour", "same day", "within two weeks")

_TAG = re.compile(r"<[^>]+>")


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


def _sort_words(line: str) -> str:
    return _TAG.sub("", line).casefold()
