"""Marks: how they are written, what rows of data amount to, and how references are set."""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from pathlib import Path

import pytest

from build_tools.checks.numbers import EXEMPTIONS, numbers_in
from build_tools.citations import Use, mark_of, marks_in, read_mark, without_marks
from build_tools.citing_pages import Numbering
from build_tools.handbook import Handbook
from build_tools.references import load_references


@pytest.mark.parametrize(
    ("text", "uses", "states"),
    [
        ("@a2020", [Use("a2020")], []),
        ("@a2020, Table 2", [Use("a2020", "Table 2")], []),
        ("@a2020, Table 2, row 3; @b2021", [Use("a2020", "Table 2, row 3"), Use("b2021")], []),
        ("@a2020; quoted in @b2021, page 4", [Use("a2020", "", "b2021", "page 4")], []),
        ("@a2020, Table 2; its footnote", [Use("a2020", "Table 2; its footnote")], []),
        ("common practice", [], ["common practice"]),
        ("from memory; @a2020", [Use("a2020")], ["from memory"]),
        ("common practice; local sign-off", [], ["common practice", "local sign-off"]),
    ],
)
def test_marks_are_read(text: str, uses: list[Use], states: list[str]) -> None:
    """Every form of a mark gives its references, their places and its states."""
    mark = read_mark(text)
    assert (list(mark.uses), list(mark.states), mark.fault) == (uses, states, "")


@pytest.mark.parametrize("text", ["quoted in @a2020", "@a2020; quoted in @b; quoted in @c", "from memory; yes"])
def test_marks_that_cannot_be_read_say_why(text: str) -> None:
    """A quotation of nothing, a quotation of a quotation and stray words are faults."""
    assert read_mark(text).fault


def test_only_marks_are_marks() -> None:
    """Links, other brackets and addresses are left alone."""
    text = "See [@home](x.md), [x], a@b2020 and [common practices]. Seen [@a2020, p. 1] so [from memory]."
    assert [mark.text for mark in marks_in(text)] == ["@a2020, p. 1", "from memory"]
    assert without_marks("At most 3 cm [@a2020]; so [common practice].") == "At most 3 cm; so."


@pytest.mark.parametrize(
    ("row", "mark"),
    [
        ({"source": "a2020", "place": "Table 1", "checked": "abstract"}, "[@a2020, Table 1]"),
        ({"source": "a", "place": "p. 1", "checked": "quoted-in", "quoted_in": "b"}, "[@a; quoted in @b, p. 1]"),
        ({"source": "a", "place": "p. 1", "checked": "memory"}, "[from memory; @a, p. 1]"),
        ({"source": "memory", "checked": "memory"}, "[from memory]"),
        ({"checked": "common-practice"}, "[common practice]"),
        ({"source": "local-sign-off", "checked": "local-sign-off"}, "[local sign-off]"),
    ],
)
def test_rows_have_marks(row: dict[str, str], mark: str) -> None:
    """The source keys of a row amount to the mark that a sentence would carry."""
    assert mark_of(row) == mark


def test_references_are_numbered_as_they_appear(load_tiny: Callable[..., Handbook]) -> None:
    """The same work keeps its number, places stand at the use, labels say what rests on nothing."""
    numbering = Numbering(load_tiny().references)
    html = numbering.apply(
        '<p title="[@no]">A [@b; @invented2020, Table 1] B [@b, p. 2] <code>[@c]</code> C [from memory; @d].</p>'
    )
    assert html == (
        '<p title="[@no]">A <span class="cite">[<a href="#source-1">1</a>; <a href="#source-2">2</a>'
        '<span class="cite-place">, Table 1</span>]</span> '
        'B <span class="cite">[<a href="#source-1">1</a><span class="cite-place">, p. 2</span>]</span> '
        '<code>[@c]</code> '
        'C <span class="mark mark-memory">from memory</span> <span class="cite">[<a href="#source-3">3</a>]</span>.</p>'
    )
    sources = numbering.sources()
    assert '<li id="source-2">Invented A, Society of Invented Things. Tiny things of an invented kind.' in sources
    assert '<details class="sources"><summary>3 works</summary>' in sources
    assert '<span class="reference-places">Drawn on here: Table 1.</span></li>' in sources
    assert "nobody has looked it up" in sources and "habit of the trade" not in sources


def test_references_are_set_in_the_numeric_style(tmp_path: Path) -> None:
    """Accents, page ranges, groups, questions and missing fields come out as a reader expects. All invented."""
    (tmp_path / "content").mkdir()
    (tmp_path / "content/references.bib").write_text(
        "@article{a, author={Invent{\\'e}, Ana and others}, title={Is {TINY} small?}, journal={J Inv},"
        " year={2001}, volume={2}, number={3}, pages={101--109}, doi={10.0000/a}, note={authors from memory}}\n"
        "@misc{b, author={{Society of Things}}, title={Rules}, howpublished={Paper 4}, year={2002}}\n"
        "@book{c, editor={Inv, B. and Ent, C.}, title={Things}, publisher={Press}, year={2003}, edition={2}}\n",
        encoding="utf-8",
    )
    references = load_references(tmp_path)
    assert references.problems == []
    lines = references.formatted(["a", "b", "c"])
    assert lines["a"] == "Inventé A, et al. Is TINY small? J Inv. 2001;2(3):101–9. doi:10.0000/a"
    assert lines["b"].startswith("Society of Things. Rules.") and "2002" in lines["b"]
    assert "Things. 2nd ed. Press; 2003." in lines["c"]
    assert references.entries["a"].note == "authors from memory"
    assert (references.entries["b"].line, references.entries["a"].name) == (2, "Inventé 2001")


@pytest.mark.parametrize(
    "row", tomllib.loads(EXEMPTIONS.read_text(encoding="utf-8"))["exemptions"], ids=lambda row: row["why"]
)
def test_exemptions_have_a_reason_and_an_example(row: dict[str, str]) -> None:
    """What may hold digits without a source is listed with why, and does what its example says."""
    assert set(row) == {"pattern", "why", "example"} and len(row["why"]) > 5
    assert numbers_in(row["example"]) == []


@pytest.mark.parametrize(
    ("text", "numbers"),
    [
        ("120/80 mmHg or 12–20 a minute", ["120/80", "12–20"]),
        ("3. Wait 2.5 s", ["2.5"]),
        ("over 45° [@a2020, Table 3]", ["45"]),
        ("{{value rate}} and `90/60`", []),
        ("see [step 4](a.md#b-5)", []),
        ("S3 at 150 m in 2020 mL", ["150", "2020"]),
        ("grade 3% of 10", ["3", "10"]),
        ("type 2 diabetes in 40%", ["40"]),
    ],
)
def test_clinical_numbers_are_told_from_other_digits(text: str, numbers: list[str]) -> None:
    """Measured figures count; list numbers, links, marks, names and quoted values do not."""
    assert numbers_in(text) == numbers
