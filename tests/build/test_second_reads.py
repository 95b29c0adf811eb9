"""Second reads: what needs one, what ends one, and how the ledger is kept."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from build_tools import bases, handbook, second_reads
from build_tools.handbook import Handbook
from build_tools.problems import report

STEP = "content/examination/tiny-step.md"
FINDING = "content/findings/tiny-sign.md"
VALUES = "content/values/tiny.toml"
DAY = "2026-02-03"


def signed(book: Handbook) -> Handbook:
    """Sign everything, and load again as a build would."""
    for of in dict.fromkeys(unit.of for unit in second_reads.units(book)):
        second_reads.sign(book, of, DAY)
    return handbook.load(book.root)


def test_every_figure_needs_a_second_read(load_tiny: Callable[..., Handbook]) -> None:
    """Numbered lines, front matter, rows and strengths each ask for one; lines without a number do not."""
    units = second_reads.units(load_tiny())
    assert [(unit.of, unit.numbers) for unit in units] == [
        ("examination/tiny-step", ("9",)),
        ("examination/tiny-step", ("4",)),
        ("findings/tiny-sign", ("9",)),
        ("findings/tiny-sign", ("5.0", "2.0", "9.5", "40")),
        ("values/tiny", ("2", "9.0")),
    ]


def test_an_unread_figure_is_a_problem_until_it_is_signed(load_tiny: Callable[..., Handbook]) -> None:
    """The build fails with the line and the command that mends it, and passes once every page is signed."""
    book = load_tiny(unread_ok=False)
    assert [(problem.file, problem.line) for problem in book.problems] == [(STEP, 15), (FINDING, 6), (VALUES, 1)]
    assert "lines 15 and 38 a second time" in book.problems[0].message
    assert "second-read sign examination/tiny-step" in book.problems[0].mend
    assert report(signed(book).problems) == "No problems."


@pytest.mark.parametrize(
    ("change", "ended"),
    [
        ((STEP, "Over 9 a minute: stop.", "Stop when it is over 9 a minute."), 0),
        ((STEP, "## Why\n", "## Why\n\nA line more.\n"), 0),
        ((STEP, "Over 9 a minute", "Over 8 a minute"), 1),
        ((STEP, "stop. [@invented2020, Table 1]", "stop. [from memory; @invented2020]"), 1),
        ((VALUES, "high = 9.0", "high = 9.5"), 1),
        ((FINDING, "lr_pos: 5.0", "lr_pos: 5.1"), 1),
        ((FINDING, "40 invented", "41 invented"), 1),
    ],
)
def test_a_changed_number_or_source_ends_the_read(
    change: tuple[str, str, str], ended: int, load_tiny: Callable[..., Handbook]
) -> None:
    """Words may be mended; a number or a source may not change unread, and the old entry is told as stale."""
    book = signed(load_tiny())
    path = book.root / change[0]
    text = path.read_text(encoding="utf-8")
    assert change[1] in text
    path.write_text(text.replace(change[1], change[2], 1), encoding="utf-8")
    again = handbook.load(book.root)
    assert len(second_reads.missing(again)) == len(second_reads.stale(again)) == ended
    assert len(again.problems) == 2 * ended


def test_one_line_can_be_signed_alone(load_tiny: Callable[..., Handbook]) -> None:
    """A reader signs what was read: the other lines of the page stay unread."""
    book = load_tiny()
    unit = second_reads.units(book)[1]
    assert second_reads.sign(book, unit.of, DAY, unit.line) == 1
    assert unit not in second_reads.missing(handbook.load(book.root))
    assert len(second_reads.missing(handbook.load(book.root))) == 4
    with pytest.raises(KeyError):
        second_reads.sign(book, "examination/other", DAY)


def test_two_readers_do_not_undo_each_other(load_tiny: Callable[..., Handbook]) -> None:
    """What one signs while the other reads stays signed."""
    one, other = load_tiny(), load_tiny()
    second_reads.sign(one, "values/tiny", DAY)
    second_reads.sign(other, "findings/tiny-sign", DAY)
    assert {entry["of"] for entry in handbook.load(one.root).reads} == {"values/tiny", "findings/tiny-sign"}


def test_the_ledger_is_stable_and_drops_what_is_stale(load_tiny: Callable[..., Handbook]) -> None:
    """One entry a line in the order of the handbook; signing again changes nothing; gone figures go."""
    book = signed(load_tiny())
    ledger = book.root / second_reads.LEDGER
    text = ledger.read_text(encoding="utf-8")
    assert len([line for line in text.splitlines() if line.startswith("  {")]) == 5
    assert ledger.read_text(encoding="utf-8") == text == (signed(book).root / second_reads.LEDGER).read_text("utf-8")
    step = book.root / STEP
    step.write_text(step.read_text(encoding="utf-8").replace("for 4 seconds. [common practice]", "well."), "utf-8")
    second_reads.sign(handbook.load(book.root), "examination/tiny-step", "2026-03-04")
    later = ledger.read_text(encoding="utf-8")
    assert later.count(DAY) == 4 and "2026-03-04" not in later


def test_figures_are_counted_by_what_they_rest_on(load_tiny: Callable[..., Handbook]) -> None:
    """Rows say it themselves; a sentence goes by its mark, and a work whose reading is not told is only named."""
    found = {name: count for name, count in bases.counts(load_tiny()).items() if count}
    assert found == {"full-text": 6, "cited": 2, "common-practice": 1}
    told = load_tiny(("content/references.bib", "volume = {1}", "checked = {abstract, full-text}"))
    assert bases.counts(told)["abstract"] == 2
