"""Pages: what front matter and blocks become, held against the tiny handbook."""

from __future__ import annotations

import re
from collections.abc import Callable

import markdown
import pytest

from build_tools import pages, values
from build_tools.handbook import Handbook
from build_tools.markup import mark_up_tables

EXTENSIONS = ["admonition", "sane_lists", "tables", "toc", "fenced_code"]
STEP = "content/examination/tiny-step.md"
FINDING = "content/findings/tiny-sign.md"
VALUES = "content/values/tiny.toml"


def rendered(book: Handbook, page_id: str) -> str:
    """Return the HTML of a page as the site shows it inside its frame."""
    draft = pages.Draft(book, book.pages[page_id])
    return draft.finished(markdown.markdown(draft.prepared(), extensions=EXTENSIONS))


def section(html: str, heading: str) -> str:
    """Return what stands under a heading of the second level."""
    found = re.search(rf'<h2 id="{heading}">.*?</h2>(.*?)(?=<h2|\Z)', html, re.DOTALL)
    assert found, html
    return found.group(1)


def test_a_step_answers_first(load_tiny: Callable[..., Handbook]) -> None:
    """Do, normal and stop come before anything else, the quoted value with its range, unit and source."""
    html = rendered(load_tiny(), "examination/tiny-step")
    assert html.startswith('<dl class="summary"><div class="do"><dt>Do</dt><dd>Look.</dd></div>')
    cited = '<span class="cite">[<a href="#source-1">1</a><span class="cite-place">, Table 1</span>]</span>'
    assert f"<dd>2 to 9.0 /min {cited}</dd>" in html
    assert "about 1 min, our own estimate" in html and "2 and 8 minutes" in html


def test_a_step_shows_its_values_findings_and_flags(load_tiny: Callable[..., Handbook]) -> None:
    """Tables come from data: range, what is seen, what it points to, what to do now; then the red flags."""
    html = rendered(load_tiny(), "examination/tiny-step")
    assert '<td data-label="Normal"><strong class="range">2–9.0 /min</strong></td>' in section(html, "normal")
    table = section(html, "not-normal")
    assert '<a href="../findings/tiny-sign.html">Tiny sign</a>' in table
    assert "More than 9 a minute." in table and "Report it the same day." in table
    assert '<a href="../conditions/tiny-condition.html">Tiny condition</a>' in table
    assert '<span class="strength strength-moderate">moderate</span>' in table
    assert "Get help now:</span> A tiny flag." in table and "Call for help." in table
    assert "Nothing seen." in section(html, "write-it-down")


def test_acts_go_on_counting_after_a_caution(load_tiny: Callable[..., Handbook]) -> None:
    """A caution stands before its act without starting the numbers again, and says its grade in words."""
    html = section(rendered(load_tiny(), "examination/tiny-step"), "how")
    assert re.search(r'class="admonition-title"><span class=\'grade\'>Stop</span>: Not when it hurts', html)
    assert '<ol start="2">' in html


def test_sources_are_listed_once_each(load_tiny: Callable[..., Handbook]) -> None:
    """The list stands under Sources, in order of appearance, with the meaning of the labels used."""
    html = section(rendered(load_tiny(), "examination/tiny-step"), "sources")
    assert html.count("<li id=") == 1 and "doi:10.0000/invented" in html
    assert "a habit of the trade" in html and "decides on it" in html


def test_a_finding_says_what_it_points_to(load_tiny: Callable[..., Handbook]) -> None:
    """The row gives direction, strength, ratio with interval, target, population, source; links lead back."""
    html = rendered(load_tiny(), "findings/tiny-sign")
    assert html.startswith('<p class="sees">More than 9 a minute.')
    assert '<a href="../examination/tiny-step.html">Tiny step</a>' in html
    row = section(html, "points-to")
    for words in ("present: more likely", "LR+ 5.0 (2.0 to 9.5)", "tininess by ruler; 40 invented adults", "Table 1"):
        assert words in row
    assert "for local sign-off" in section(html, "now") and "no tiny sign" in section(html, "now")


def test_the_likelihood_ratio_is_spelt_out_once(load_tiny: Callable[..., Handbook]) -> None:
    """At its first use on a page, unless the text has said it before; never inside a tag."""
    html = rendered(load_tiny(), "findings/tiny-sign")
    assert "Likelihood ratio LR+ 5.0" in html and html.count("ikelihood ratio") == 1
    said = rendered(load_tiny((FINDING, "Count again.", "Its likelihood ratio is known.")), "findings/tiny-sign")
    assert "Likelihood ratio LR+" not in said
    assert pages.with_ratio_spelt_out('<p title="LR+">of LR+ 2, LR+ 3</p>') == (
        '<p title="LR+">of likelihood ratio LR+ 2, LR+ 3</p>'
    )


def test_an_interval_that_includes_1_is_told(load_tiny: Callable[..., Handbook]) -> None:
    """A large ratio that chance may have made is not passed off as a strength."""
    html = rendered(load_tiny((FINDING, "[2.0, 9.5]", "[0.9, 9.5]")), "findings/tiny-sign")
    assert "uncertain: the interval includes 1" in section(html, "points-to")
    assert "uncertain" not in rendered(load_tiny(), "findings/tiny-sign")


def test_a_condition_lists_its_signs(load_tiny: Callable[..., Handbook]) -> None:
    """The reverse index makes itself, strongest first, and the steps that look for the signs are linked."""
    html = rendered(load_tiny(), "conditions/tiny-condition")
    assert '<a href="../findings/tiny-sign.html">Tiny sign</a>' in section(html, "signs-by-strength")
    assert '<a href="../examination/tiny-step.html">Tiny step</a>' in section(html, "first-tests")


def test_signs_are_ordered_by_direction_and_strength(load_tiny: Callable[..., Handbook]) -> None:
    """For comes before against, stronger before weaker, and the larger ratio first."""
    more = "".join(
        f"  - condition: tiny-condition\n    direction: {direction}\n    strength: {strength}\n    target: it\n"
        f"    {key}: {ratio}\n    population: some\n    source: invented2020\n    place: p\n    checked: abstract\n"
        for direction, strength, key, ratio in (
            ("against", "strong", "lr_neg", 0.05),
            ("for", "weak", "lr_pos", 2.0),
            ("for", "strong", "lr_pos", 12.0),
            ("for", "strong", "lr_pos", 20.0),
        )
    )
    book = load_tiny((FINDING, "points_to:\n", "points_to:\n" + more))
    assert book.problems == []
    order = [entry.get("lr_pos", entry.get("lr_neg")) for _, entry in book.signs_of("tiny-condition")]
    assert order == [20.0, 12.0, 5.0, 2.0, 0.05]


def test_marks_may_hold_what_markdown_and_html_use(load_tiny: Callable[..., Handbook]) -> None:
    """A bar in a table cell, an ampersand and underscores in a place reach the reader as they are."""
    book = load_tiny((STEP, "Counting twice.", "| A | B |\n| - | - |\n| c | 7 [@invented2020, rows a_b_c & 1 | 2] |"))
    html = section(rendered(book, "examination/tiny-step"), "easy-to-get-wrong")
    assert (
        '<td data-label="B">7 <span class="cite">[<a href="#source-1">1</a>'
        '<span class="cite-place">, rows a_b_c &amp; 1 | 2</span>]</span></td>'
        in html
    )


def test_markdown_tables_can_become_cards() -> None:
    """Each cell names its column, the first cell heads its row, and alignment leaves no style attribute."""
    html = markdown.markdown("| | A *b* |\n| --- | ---: |\n| x | 1 |\n", extensions=["tables"])
    assert "style=" in html
    marked = mark_up_tables(html)
    assert '<th scope="row">x</th>' in marked and '<td data-label="A b">1</td>' in marked
    assert "style=" not in marked


def test_pages_carry_no_inline_style_or_script(load_tiny: Callable[..., Handbook]) -> None:
    """The security policy allows neither, and no token is left behind."""
    book = load_tiny()
    for page_id in book.pages:
        html = rendered(book, page_id)
        assert not re.search(r"<script|<style|\sstyle=|\son[a-z]+=", html)
        assert not re.search(r"[\ue000-\uf8ff]|\[@|\{\{", html)


def test_rendering_twice_gives_the_same(load_tiny: Callable[..., Handbook]) -> None:
    """Nothing depends on order of sets, time or earlier pages."""
    first, second = ({name: rendered(book, name) for name in book.pages} for book in (load_tiny(), load_tiny()))
    assert first == second


def test_titles_and_search_get_plain_words(load_tiny: Callable[..., Handbook]) -> None:
    """Front matter that leaves the page carries no marks and no quoted ids."""
    book = load_tiny()
    meta = pages.plain_meta(book, book.pages["examination/tiny-step"])
    assert meta["summary"] == {"do": "Look.", "normal": "2 to 9.0 /min", "stop": "Over 9 a minute: stop."}


@pytest.mark.parametrize(
    ("row", "words", "cell"),
    [
        ("low = 60\nhigh = 100", "60 to 100 u", "60–100 u"),
        ("low = -5\nhigh = 3", "−5 to 3 u", "−5 to 3 u"),
        ("low = 0.90", "at least 0.90 u", "0.90 u or more"),
        ("high = 2", "at most 2 u", "2 u or less"),
        ('text = "about 40"', "about 40 u", "about 40 u"),
        ('text = "falls by 5"\nlow = 1', "at least 1 u; falls by 5", "1 u or more; falls by 5"),
        ('text = "40 when lying, more when sitting up"', "40 when lying, more when sitting up (u)", None),
    ],
)
def test_values_read_as_a_range(row: str, words: str, cell: str | None, load_tiny: Callable[..., Handbook]) -> None:
    """Open ends are said in words, digits stay as written, the unit stands by the number."""
    book = load_tiny((VALUES, 'low = 2\nhigh = 9.0\nunit = "/min"', f'{row}\nunit = "u"'))
    assert book.problems == []
    assert values.in_words(book, book.values["tiny-rate"]) == words
    assert values.in_table(book, book.values["tiny-rate"]) == (cell or words)


def test_a_finding_says_first_what_to_do(load_tiny: Callable[..., Handbook]) -> None:
    """Under Now, the act stands before the text that explains it, and the words for the record after it."""
    book = load_tiny((FINDING, "## Now\n", "## Now\n\nBecause of this.\n"))
    html = section(rendered(book, "findings/tiny-sign"), "now")
    act, reason, record = html.index('class="now"'), html.index("Because of this."), html.index("Write down")
    assert act < reason < record


def test_labels_of_cards_are_words_alone(load_tiny: Callable[..., Handbook]) -> None:
    """A mark in the head of a column is numbered there, and left out of the label that each card repeats."""
    book = load_tiny((STEP, "Counting twice.", "| A | B [@invented2020, Table 1] |\n| - | - |\n| c | d |"))
    html = section(rendered(book, "examination/tiny-step"), "easy-to-get-wrong")
    assert '<th scope="col">B <span class="cite">' in html and '<td data-label="B">d</td>' in html
