"""Small pieces of HTML that every box and table is made of."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Iterable, Sequence
from html import escape
from typing import TYPE_CHECKING, Any

from build_tools import values
from build_tools.citations import VALUE, mark_of, without_marks

if TYPE_CHECKING:
    from build_tools.handbook import Handbook, Page

VALUES_PAGE = "values/index"


def section_of(calculator: str) -> str:
    """Return the id of a calculator's own part of a page, to which links lead whatever stands over it."""
    return "calculator-" + calculator.replace("_", "-")


def strip(name: str, ways: Sequence[str], look: str = "") -> str:
    """Return the strip that leads to the parts of a long page. name: what its parts are; ways: list items;
    look: one more class."""
    classes = f"on-this-page {look}".strip()
    return f'<nav class="{classes}" aria-label="{name}"><ul tabindex="0">{"".join(ways)}</ul></nav>\n'


class Writer:
    """Writes HTML for one page: knows the handbook, and where the page lies for its links.

    Marks stay as `[@key, place]` in the HTML; the page numbers them when it is whole."""

    def __init__(self, handbook: Handbook, page: Page) -> None:
        self.handbook = handbook
        self.page = page

    def address(self, page_id: str, anchor: str = "") -> str:
        """Return the address of a page of the site from this one."""
        here = posixpath.dirname(self.page.id) or "."
        return posixpath.relpath(f"{page_id}.html", here) + (f"#{anchor}" if anchor else "")

    def link(self, page: Page, anchor: str = "", words: str = "") -> str:
        return f'<a href="{escape(self.address(page.id, anchor))}">{escape(words or page.title, quote=False)}</a>'

    def link_to(self, kind: str, slug: str) -> str:
        """Return a link to a page by kind and slug; its slug in words where there is none."""
        page = self.handbook.page(kind, slug)
        return self.link(page) if page else escape(slug.replace("-", " "), quote=False)

    def calculator(self, name: str) -> str:
        """Return a link to a calculator on its page."""
        sheet = self.handbook.sheets.get(name)
        title = str(sheet.data.get("title", name)) if sheet else name.replace("_", " ")
        pages = self.handbook.pages_of_calculator(name)
        return self.link(pages[0], section_of(name), title) if pages else escape(title, quote=False)

    def text(self, words: Any) -> str:
        """Return a text of the front matter or a data file as HTML, with its quoted values filled in."""
        return VALUE.sub(lambda found: self.value(found.group(1)), escape(str(words), quote=False))

    def value(self, name: str) -> str:
        """Return a normal value in words, linked to its row and followed by its mark."""
        row = self.handbook.values.get(name)
        if row is None:
            return escape(name)
        words = escape(values.in_words(self.handbook, row), quote=False)
        if VALUES_PAGE in self.handbook.pages:
            words = f'<a class="value" href="{escape(self.address(VALUES_PAGE, f"value-{name}"))}">{words}</a>'
        return f"{words} {self.mark(row)}"

    def mark(self, row: dict[str, Any]) -> str:
        """Return the mark of a row of data, to be numbered later."""
        return escape(mark_of(row), quote=False)


def listed(items: Iterable[str]) -> str:
    """Return HTML pieces as a list, a single one as it is."""
    pieces = list(items)
    if len(pieces) < 2:
        return "".join(pieces)
    return "<ul>" + "".join(f"<li>{piece}</li>" for piece in pieces) + "</ul>"


def table(heads: Sequence[str], rows: Iterable[Sequence[str]], name: str, caption: str = "") -> str:
    """Return a table whose cells carry their column's head, so that each row can become a card on a phone."""
    # A corner without words heads nothing, so it is no heading to a screen reader either.
    head = "".join(f'<th scope="col">{escape(each, quote=False)}</th>' if each else "<td></td>" for each in heads)
    body = []
    for row in rows:
        cells = [f'<th scope="row" data-label="{escape(_label(heads[0]))}">{row[0]}</th>']
        cells += [
            f'<td data-label="{escape(_label(label))}">{cell}</td>'
            for label, cell in zip(heads[1:], row[1:], strict=True)
        ]
        body.append("<tr>" + "".join(cells) + "</tr>")
    title = f"<caption>{caption}</caption>" if caption else ""
    return (
        f'<table class="{name}">{title}<thead><tr>{head}</tr></thead><tbody>\n' + "\n".join(body) + "\n</tbody></table>"
    )


def facts(rows: Iterable[tuple[str, str]]) -> str:
    """Return pairs of label and HTML as a list of facts, without the empty ones."""
    pairs = [f"<div><dt>{escape(label, quote=False)}</dt><dd>{piece}</dd></div>" for label, piece in rows if piece]
    return f'<dl class="facts">{"".join(pairs)}</dl>' if pairs else ""


def _label(head: str) -> str:
    """Return the words of a column's head alone: in an attribute no mark is numbered and no token filled in."""
    return without_marks(_TAG_OR_TOKEN.sub("", head)).strip()


# Tokens for what is not Markdown are made of private-use characters.
_TAG_OR_TOKEN = re.compile("<[^>]+>|[\ue000-\ue01f]+")
_TABLE = re.compile(r"<table>.*?</table>", re.DOTALL)
_HEAD = re.compile(r"<th[^>]*>(.*?)</th>", re.DOTALL)
_ROW = re.compile(r"<tr>.*?</tr>", re.DOTALL)
_CELL = re.compile(r"<td(?P<set>[^>]*)>(?P<text>.*?)</td>", re.DOTALL)


def mark_up_tables(html: str) -> str:
    """Give the cells of tables written in Markdown the heads of their columns, and their rows a head cell.

    The class keeps the theme's script from wrapping the table in a box that scrolls sideways.
    Alignment goes too: it comes as a style attribute, which the site's security policy forbids."""
    return _TABLE.sub(lambda found: _marked_up(found.group()).replace("<table>", '<table class="written">', 1), html)


def _marked_up(text: str) -> str:
    head, body = text.split("</thead>", 1)
    labels = [_label(label) for label in _HEAD.findall(head)]

    def row(found: re.Match[str]) -> str:
        places = iter(range(len(labels)))

        def cell(one: re.Match[str]) -> str:
            index = next(places)
            label = f' data-label="{labels[index]}"' if labels[index] else ""
            if index == 0:
                return f'<th scope="row"{label}>{one.group("text")}</th>'
            return f"<td{label}>{one.group('text')}</td>"

        return _CELL.sub(cell, found.group())

    # A corner without words heads nothing, so it is no heading to a screen reader either.
    head = re.sub(r"<th(?: [^>]*)?>\s*</th>", "<td></td>", head)
    return re.sub(r"<th(?: [^>]*)?>", '<th scope="col">', head) + "</thead>" + _ROW.sub(row, body)
