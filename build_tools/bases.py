"""What the figures rest on: how many were read in full, in an abstract, in a quotation, or in nothing at all."""

from __future__ import annotations

from collections import Counter
from html import escape
from typing import TYPE_CHECKING

from build_tools.citations import COMMON_PRACTICE, FROM_MEMORY, Mark
from build_tools.markup import VALUES_PAGE, Writer, table
from build_tools.second_reads import Unit, units

if TYPE_CHECKING:
    from build_tools.handbook import Handbook

# From the firmest to the weakest: name, words, what it means.
BASES = (
    ("full-text", "The work itself", "the paper, book or standard was read where the figure stands"),
    ("guideline-text", "The guideline itself", "the recommendation or its table was read"),
    ("abstract", "Its abstract", "the figure stands in the abstract; the rest was not read"),
    ("cited", "A work that is named", "a part of it was read; which part is said at the figure"),
    ("quoted-in", "A quotation", "read in another work, which is named too"),
    ("common-practice", "Common practice", "a habit of the trade, without a source"),
    ("memory", "Memory", "nobody has looked it up"),
    ("local-sign-off", "Nothing seen", "whoever publishes the handbook decides on it"),
)
SOURCES_PAGE = "about/sources"
_RANK = {name: rank for rank, (name, _, _) in enumerate(BASES)}


def of_mark(handbook: Handbook, mark: Mark) -> str:
    """Return the basis of a mark: the firmest of the works it names, unless it says that none was looked up."""
    if FROM_MEMORY in mark.states:
        return "memory"
    found = []
    for use in mark.uses:
        entry = handbook.references.entries.get(use.key)
        direct = [state for state in (entry.checked if entry else ()) if state not in ("quoted-in", "memory")]
        if use.quoted_in:
            found.append("quoted-in")
        elif "abstract" in use.place.lower():
            found.append("abstract")
        else:
            # Where parts were seen in different ways, the weaker way is not to be told as the firmer.
            found.append(max(direct, key=_RANK.__getitem__) if direct else "cited")
    if found:
        return min(found, key=_RANK.__getitem__)
    return "common-practice" if COMMON_PRACTICE in mark.states else "local-sign-off"


def of_unit(handbook: Handbook, unit: Unit) -> str:
    """Return the basis of a numbered line or row: its own word for it, else its firmest mark."""
    if unit.checked:
        return unit.checked
    return min((of_mark(handbook, mark) for mark in unit.marks), key=_RANK.__getitem__, default="local-sign-off")


def counts(handbook: Handbook) -> dict[str, int]:
    """Return how many numbers of the handbook rest on each basis, the firmest first."""
    found = dict.fromkeys(_RANK, 0)
    for unit in units(handbook):
        found[of_unit(handbook, unit)] += len(unit.numbers)
    return found


def in_words(handbook: Handbook) -> str:
    """Return the counts as a sentence: "40 figures: 30 rest on the work itself, 10 on memory."."""
    found = counts(handbook)
    parts = [f"{found[name]} on {words[0].lower()}{words[1:]}" for name, words, _ in BASES if found[name]]
    return f"{sum(found.values())} figures: {', '.join(parts).replace(' on', ' rest on', 1)}."


def bases_html(handbook: Handbook) -> str:
    """Return the counts as a table, and below it, folded, on which pages the figures of each basis stand."""
    found = counts(handbook)
    whole = sum(found.values()) or 1
    rows = [
        (escape(words), str(found[name]), f"{100 * found[name] / whole:.0f}%", escape(meaning))
        for name, words, meaning in BASES
        if found[name]
    ]
    return table(("Rests on", "Figures", "Share", "What that means"), rows, "bases") + _where(handbook)


def _where(handbook: Handbook) -> str:
    writer = Writer(handbook, handbook.pages[SOURCES_PAGE])
    places: dict[str, Counter[str]] = {name: Counter() for name in _RANK}
    for unit in units(handbook):
        places[of_unit(handbook, unit)][_place(writer, unit)] += len(unit.numbers)
    parts = []
    for name, words, _ in BASES:
        if found := places[name]:
            rows = "".join(f"<li>{place}: {count}</li>" for place, count in sorted(found.items(), key=_most_first))
            parts.append(
                f'<details class="sources"><summary>{escape(words)}: where</summary>\n'
                f'<ul class="bases-where">{rows}</ul></details>'
            )
    return f"<div data-search-exclude>{''.join(parts)}</div>"


def _most_first(item: tuple[str, int]) -> tuple[int, str]:
    return -item[1], item[0]


def _place(writer: Writer, unit: Unit) -> str:
    """Return a link to the page that shows a unit, or the name of its file in words where no page is its own."""
    folder, _, name = unit.of.partition("/")
    if page := writer.handbook.pages.get(unit.of):
        return writer.link(page)
    if folder == "values" and VALUES_PAGE in writer.handbook.pages:
        return writer.link(writer.handbook.pages[VALUES_PAGE])
    return writer.calculator(name) if folder == "calculators" else escape(unit.of.replace("_", " ").capitalize())
