"""Lists that make themselves, and what the figures rest on."""

from __future__ import annotations

import re
from collections.abc import Callable

from build_tools import bases, listings, step_lists
from build_tools.handbook import Handbook

STEP = "content/examination/tiny-step.md"
NAV = "mkdocs.yml"
ARTICLE = "---\nkind: article\ntitle: A page\n---\n\nWords.\n"
SOURCES = ("content/about/sources.md", None, ARTICLE)
ORDER = ("content/examination/running-order.md", None, ARTICLE)
IN_NAV = (NAV, "  - Home: index.md\n", "  - Home: index.md\n  - examination/running-order.md\n  - about/sources.md\n")


def test_the_build_says_what_the_figures_rest_on(load_tiny: Callable[..., Handbook]) -> None:
    """Each figure is counted once, on the firmest thing it names, and the parts add up to the whole."""
    book = load_tiny()
    told = bases.in_words(book)
    whole, *parts = map(int, re.findall(r"\d+", told))
    assert whole == sum(parts) == sum(bases.counts(book).values()) > 0
    assert re.fullmatch(r"\d+ figures: \d+ rest on the work itself, .*\.", told) and "common practice" in told


def test_the_page_of_sources_says_where_the_figures_of_each_basis_stand(load_tiny: Callable[..., Handbook]) -> None:
    book = load_tiny(SOURCES, ORDER, IN_NAV)
    html = bases.bases_html(book)
    where = html.split("</table>")[1]
    assert where.count("<details") == html.split("</table>")[0].count('<th scope="row"')
    practice = where[where.index("Common practice: where") :].split("</details>")[0]
    assert '<a href="../examination/tiny-step.html">Tiny step</a>: 1' in practice


def test_sources_are_folded_by_kind(load_tiny: Callable[..., Handbook]) -> None:
    """Papers, books and the rest; every work stands in one of them."""
    book = load_tiny(
        ("content/references.bib", "% Inv", "@book{invented2019,\n  title = {Tiny book}, year = {2019}\n}\n% Inv")
    )
    html = listings.sources_html(book)
    assert re.findall(r"<summary>(.*?)</summary>", html) == ["Papers: 1", "Books and chapters: 1"]
    assert html.count("<li>") == len(book.references.entries) == 2


def test_a_region_that_comes_again_says_so(load_tiny: Callable[..., Handbook]) -> None:
    """Bedside order goes before region: each stretch has a heading and an id of its own."""
    text = load_tiny().pages["examination/tiny-step"].path.read_text(encoding="utf-8")
    more = [
        (f"content/examination/{name}.md", None, text.replace("order: 10", f"order: {order}").replace("arms", region))
        for name, order, region in (("second-step", 20, "legs"), ("third-step", 30, "arms"))
    ]
    found = step_lists.regions(load_tiny(*more))
    assert [(region.id, region.words) for region in found] == [
        ("region-arms", "Arms and pulse"), ("region-legs", "Legs"), ("region-arms-2", "Arms and pulse, again"),
    ]


def test_the_running_order_keeps_works_and_sets_signs_for_labels(load_tiny: Callable[..., Handbook]) -> None:
    change = (STEP, 'stop. [@invented2020, Table 1]"', 'stop. [@invented2020, Table 1; local sign-off]"')
    html = step_lists.running_order_html(load_tiny(SOURCES, ORDER, IN_NAV, change))
    assert "<b>Stop:</b> Over 9 a minute: stop. † [@invented2020, Table 1]</p>" in html
    assert "<dt>†</dt><dd>for local sign-off:" in html and "‡" not in html
