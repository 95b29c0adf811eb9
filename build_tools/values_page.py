"""The page of normal values: every row of the data files, in the order of the examination, ready to be narrowed."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING, Any

from build_tools.citations import mark_of
from build_tools.figures.ruler import Band, ruler
from build_tools.markup import VALUES_PAGE, Writer, section_of, strip
from build_tools.tables import data_table
from build_tools.values import SEEN, in_table, limits

if TYPE_CHECKING:
    from build_tools.handbook import Handbook

GROUPS = {
    "": "Everyone",
    "adult": "Adults",
    "older": "Older adults",
    "pregnancy": "Pregnancy",
    "child": "Children",
    "newborn": "Newborns",
}


def values_html(handbook: Handbook) -> str:
    """Give the list of all normal values with its filter form, by step in bedside order; marks stay for the page.

    Links are relative to content/values/, where the page stands.
    """
    titles = {page.slug: page.title for page in handbook.of_kind("step")}
    writer = Writer(handbook, handbook.pages[VALUES_PAGE])
    groups = []
    ways = []
    # What is felt and measured comes before the figures of preparation, which are looked up least.
    late = {page.slug for page in handbook.of_kind("step") if page.meta.get("region") == "preparing"}
    for step in sorted(titles, key=lambda slug: slug in late):
        rows = [_row(handbook, name, titles) for name, row in handbook.values.items() if row["step"] == step]
        rows += [_table(writer, name) for name, row in handbook.tables.items() if row["step"] == step]
        if rows:
            ways.append(f'<li><a href="#of-{step}">{escape(titles[step])}</a></li>')
            inside = "\n".join(rows)
            groups.append(
                f'<section class="values-group" data-values-group aria-labelledby="of-{step}">'
                f'<h2 id="of-{step}">{escape(titles[step])}</h2>\n<ul class="values">\n{inside}\n</ul></section>'
            )
    return f'<div data-values data-search-exclude>\n{_form()}\n{strip("Steps", ways)}{"".join(groups)}\n</div>'


def _form() -> str:
    choices = "".join(
        f'<label><input type="radio" name="who" value="{group}"{"" if group else " checked"}>'
        f"<span>{words}</span></label>"
        for group, words in GROUPS.items()
    )
    return (
        '<form class="filter needs-script" data-values-form>'
        '<label for="values-filter">A sign, a number, an age: “pulse 96”, “refill at 80”</label>'
        '<span class="search-row"><input id="values-filter" type="text" inputmode="search" autocomplete="off" '
        'autocapitalize="off" spellcheck="false"></span>'
        f'<fieldset class="choices"><legend class="aside-words">For whom</legend>{choices}</fieldset>'
        '<p class="search-count" role="status" data-values-count></p></form>'
    )


def _row(handbook: Handbook, value_id: str, titles: dict[str, str]) -> str:
    row = handbook.values[value_id]
    low, high = limits(handbook, row)
    names = [*row.get("aliases", []), row["quantity"], row["sign"], row["who"], row.get("population", "")]
    words = " ".join(map(str, names))
    plain = low is not None or high is not None
    drawn = _ruler(handbook, value_id, row) if plain and "scale" in row else ""
    verdict = '<p class="value-verdict" role="status" data-verdict hidden></p>' if drawn else ""
    note = f'<p class="value-note">{escape(row["note"])}</p>' if row.get("note") else ""
    size = "value-range" if plain else "value-words"
    return (
        f'<li class="value" id="value-{value_id}" data-value data-words="{escape(words)}" data-group="{row["group"]}"'
        f'{_data("low", low)}{_data("high", high)}>'
        f'<h3>{escape(row["quantity"])}</h3><p class="value-who">{escape(row["who"])}</p>'
        f'<p class="{size}" data-range>{escape(in_table(handbook, row))}</p>{drawn}{verdict}{note}'
        f'<p class="value-origin">{escape(mark_of(row), quote=False)} {_seen(row)}</p>'
        f'<p class="value-links">{_links(handbook, row, titles)}</p></li>'
    )


def _table(writer: Writer, name: str) -> str:
    """Give a table of the data files as one entry of the list."""
    row = writer.handbook.tables[name]
    words = escape(f"{row['title']} {' '.join(row['columns'])} table")
    return (
        f'<li class="value value-table" id="table-{name}" data-value data-words="{words}" data-group="any">'
        f"<div data-range>{data_table(writer, name)}</div></li>"
    )


def _data(name: str, limit: Any) -> str:
    return "" if limit is None else f' data-{name}="{float(limit):g}"'


def _ruler(handbook: Handbook, value_id: str, row: dict[str, Any]) -> str:
    low, high = limits(handbook, row)
    start, end = (float(end) for end in row["scale"])
    about = f"{row['quantity']}, {row['who']}: {in_table(handbook, row)}, on a scale from {start:g} to {end:g}."
    return ruler(start, end, str(row.get("unit", "")), prefix=f"ruler-of-{value_id}", title=str(row["quantity"]),
                 description=about, bands=[Band("", low, high)])


def _seen(row: dict[str, Any]) -> str:
    """Say how the figure was seen, unless its mark says so already, and in whom it was measured."""
    parts = [] if row["checked"] in ("common-practice", "memory", "local-sign-off") else [SEEN[row["checked"]]]
    if row.get("population"):
        parts.append(str(row["population"]))
    return escape("; ".join(parts))


def _links(handbook: Handbook, row: dict[str, Any], titles: dict[str, str]) -> str:
    links = []
    if row["step"] in titles:
        links.append(f'<a href="../examination/{row["step"]}.html">How to examine<span class="aside-words">: '
                     f'{escape(titles[row["step"]])}</span></a>')
    calculator = str(row.get("calculator", ""))
    for page in handbook.pages_of_calculator(calculator):
        links.append(f'<a href="../{page.id}.html#{section_of(calculator)}">Calculate<span class="aside-words">: '
                     f'{escape(str(handbook.sheets[calculator].data["title"]))}</span></a>')
    return " ".join(links)
