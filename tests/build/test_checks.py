"""Each check has a tiny bad handbook that it catches, told with file, line, cause and mend."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest

from build_tools import handbook
from build_tools.checks import abbreviations
from build_tools.environment import ROOT
from build_tools.handbook import Handbook
from build_tools.problems import Problem, report

MODEL = "calculators/models/tiny.toml"
STEP = "content/examination/tiny-step.md"
FINDING = "content/findings/tiny-sign.md"
CONDITION = "content/conditions/tiny-condition.md"
INDEX = "content/index.md"
VALUES = "content/values/tiny.toml"
FLAGS = "content/red_flags.toml"
BIB = "content/references.bib"
NAV = "mkdocs.yml"

SECOND_PAPER = """
@article{other2021,
  title = {Another invented thing}, journal = {Journal of Invention}, year = {2021}
}
"""

# What is spoilt, the file that is named, how its named line starts (empty: the file as a whole), words of the message.
CASES: dict[str, tuple[list[tuple[str, str | None, str | None]], str, str, str]] = {
    "unknown key": ([(STEP, "seconds: 60", "seconds: 60\nsecond: 5")], STEP, "second: 5", 'key "second" is unknown'),
    "missing key": ([(STEP, "record: Nothing seen.\n", "")], STEP, "kind: step", 'key "record" is missing'),
    "missing key below another": ([(STEP, "  do: Look.\n", "")], STEP, "summary:", 'key "do" in summary is missing'),
    "wrong type": ([(STEP, "seconds: 60", "seconds: soon")], STEP, "seconds: soon", "seconds is text"),
    "unknown word": ([(STEP, "level: core", "level: cor")], STEP, "level: cor", 'level is "cor"'),
    "number too small": ([(STEP, "order: 10", "order: 0")], STEP, "order: 0", "order is 0"),
    "too long": (
        [(STEP, "title: Tiny step", "title: " + "x" * 90)],
        STEP,
        "title: xxxxxxxxxxxxxxxxxxxxxxxxxxx",
        "has 90 characters",
    ),
    "twice in a list": ([(STEP, "routes: [2, 8]", "routes: [2, 2]")], STEP, "routes: [2, 2]", "holds something twice"),
    "form of an id": ([(VALUES, 'id = "tiny-rate"', 'id = "Tiny"')], VALUES, 'id = "Tiny"', 'is "Tiny"'),
    "key without its companion": (
        [(FINDING, "    target: tininess by ruler\n", "")],
        FINDING,
        "lr_pos: 5.0",
        '"target"',
    ),
    "unknown kind": ([(INDEX, "kind: article", "kind: artikel")], INDEX, "kind: artikel", 'kind "artikel" is unknown'),
    "no kind": ([(INDEX, "kind: article\n", "")], INDEX, "title: Tiny handbook", "kind of page is missing"),
    "unknown key in data": ([(VALUES, "low = 2", "lowest = 2")], VALUES, "lowest = 2", 'key "lowest"'),
    "no front matter": ([(INDEX, None, "Only words.\n")], INDEX, "Only words.", "no front matter"),
    "front matter without end": ([(INDEX, None, "---\nkind: article\n")], INDEX, "---", "has no end"),
    "YAML that cannot be read": (
        [(STEP, "record: Nothing", "record: Nothing: at all")],
        STEP,
        "record: Nothing: at all seen.",
        "not YAML",
    ),
    "YAML key twice": ([(STEP, "order: 10", "order: 10\norder: 20")], STEP, "order: 20", "written twice"),
    "TOML that cannot be read": ([(FLAGS, 'speed = "now"', "speed = now")], FLAGS, "speed = now", "not TOML"),
    "heading missing": ([(STEP, "## Normal\n", "")], STEP, "## If you cannot find it", 'heading "Normal" is missing'),
    "heading unknown": ([(STEP, "## Normal", "## Nomal")], STEP, "## Nomal", 'no heading "Nomal"'),
    "heading out of order": (
        [(FINDING, "## How good\n", ""), (FINDING, "## Sources", "## How good\n\n## Sources")],
        FINDING,
        "## How good",
        'heading "How good" stands after "Now"',
    ),
    "heading of the first level": ([(STEP, "## Why", "# Tiny\n\n## Why")], STEP, "# Tiny", "of the first level"),
    "mark in a heading": (
        [(STEP, "## Why", "## Why [common practice]")],
        STEP,
        "## Why [common practice]",
        "carries a mark",
    ),
    "nothing to say": ([(STEP, "**Say:** ", "")], STEP, "## Before you start", "does not say what to say"),
    "acts not numbered": (
        [(STEP, "1. Look.", "Look."), (STEP, "2. Count", "Count")],
        STEP,
        "## How",
        "no numbered acts",
    ),
    "acts numbered wrongly": (
        [(STEP, "2. Count", "4. Count")],
        STEP,
        "4. Count for 4 seconds. [common pr",
        "numbered 4 where 2",
    ),
    "sources written by hand": (
        [(STEP, "## Sources\n", "## Sources\n\nA book.\n")],
        STEP,
        "A book.",
        'under "Sources"',
    ),
    "unknown finding": (
        [(STEP, "findings: [tiny-sign]", "findings: [tiny-sing]")],
        STEP,
        "findings: [tiny-sing]",
        'finding is called "tiny-s',
    ),
    "unknown condition": (
        [(FINDING, "tiny-condition", "tiny-state")],
        FINDING,
        "- condition: tiny-state",
        'condition is called "tiny-state"',
    ),
    "unknown step": (
        [(VALUES, 'step = "tiny-step"', 'step = "other"')],
        VALUES,
        'step = "other"',
        'step is called "other"',
    ),
    "unknown value": (
        [(STEP, "values: [tiny-rate]", "values: [other]")],
        STEP,
        "values: [other]",
        'value is called "other"',
    ),
    "unknown quoted value": (
        [(STEP, "{{value tiny-rate}}", "{{value other}}")],
        STEP,
        'normal: "{{value other}}"',
        'value is called "other"',
    ),
    "unknown red flag": (
        [(FINDING, "sees:", "red_flag: other\nsees:")],
        FINDING,
        "red_flag: other",
        'red flag is called "other"',
    ),
    "unknown calculator": (
        [(STEP, "measures: []", "measures: [other]")],
        STEP,
        "measures: [other]",
        'calculator is called "other"',
    ),
    "unknown figure": (
        [(STEP, "Counting twice.", "```figure\nother\n```")],
        STEP,
        "```figure",
        'figure is called "other"',
    ),
    "unknown laboratory": (
        [(STEP, "Counting twice.", "```laboratory\nother\n```")],
        STEP,
        "```laboratory",
        'laboratory is called "other"',
    ),
    "unknown sound": (
        [(STEP, "Counting twice.", "```sound\nother\n```")],
        STEP,
        "```sound",
        'sound is called "other"',
    ),
    "model that cites an unknown work": (
        [(MODEL, None, '[[rows]]\nid = "a"\nhz = 30\nsource = "30 Hz [@nobody, abstract]."\n')],
        MODEL,
        "source = ",
        'no reference has the key "nobody"',
    ),
    "unknown block": (
        [(STEP, "Counting twice.", "```picture\nother\n```")],
        STEP,
        "```picture",
        "nothing is made from",
    ),
    "unknown band": (
        [(VALUES, "low = 2\nhigh = 9.0", 'from = "a/b/c"')],
        VALUES,
        'from = "a/b/c"',
        'no band is found at "a/b/c"',
    ),
    "finding does not list the step": (
        [
            (FINDING, "steps: [tiny-step]", "steps: [second-step]"),
            ("content/examination/second-step.md", None, "---\nkind: step\n---\n"),
        ],
        STEP,
        "findings: [tiny-sign]",
        "that finding does not list the step",
    ),
    "step does not list the finding": (
        [(STEP, "[tiny-sign]", "[]")],
        FINDING,
        "steps: [tiny-step]",
        "that step does not list the finding",
    ),
    "red flag without a page": ([(STEP, "[tiny-flag]", "[]")], FLAGS, 'id = "tiny-flag"', "no page shows the red flag"),
    "unknown citation": (
        [(STEP, "[@invented2020, abstract]", "[@invented2021]")],
        STEP,
        "Do not press. [@invented2021]",
        'key "invented2021"',
    ),
    "unknown source of a row": ([(VALUES, '"invented2020"', '"other"')], VALUES, 'source = "other"', 'key "other"'),
    "unreadable mark": (
        [(STEP, "[common practice]", "[common practice; or so]")],
        STEP,
        "2. Count for 4 seconds. [common pr",
        '"or so" is neither',
    ),
    "key as a word": (
        [(STEP, "Counting twice.", "Ask invented2020.")],
        STEP,
        "Ask invented2020.",
        "stands in the text as a word",
    ),
    "unused reference": (
        [(BIB, "% Invented", SECOND_PAPER + "% Invented")],
        BIB,
        "@article{other2021,",
        'nothing cites the reference "other2021"',
    ),
    "one key for two papers": (
        [(BIB, "% Inv", SECOND_PAPER.replace("other2021", "invented2020") + "% Inv")],
        BIB,
        "@article{invented2020,",
        "two",
    ),
    "two keys for one paper": (
        [(BIB, "% Inv", "@misc{other2021, title = {X}, doi = {10.0000/INVENTED}}\n% Inv")],
        BIB,
        "@article{invented2020,",
        "is the same paper as",
    ),
    "reference that cannot be read": (
        [(BIB, "volume = {1},", "volume = {1")],
        BIB,
        "@article{invented2020,",
        "cannot be read",
    ),
    "reference with an unknown state": (
        [(BIB, "volume = {1}", "checked = {seen}")],
        BIB,
        "@article{invented2020,",
        'checked as "seen"',
    ),
    "work cited as seen": (
        [(BIB, "volume = {1}", "checked = {memory}")],
        FINDING,
        'sees: "More than 9 a minute. [@inv',
        "cited as seen",
    ),
    "row without a source": (
        [(VALUES, 'source = "invented2020"\n', "")],
        VALUES,
        "[[values]]",
        "the row has no source",
    ),
    "row without a place": ([(VALUES, 'place = "Table 1"\n', "")], VALUES, "[[values]]", "does not say where in"),
    "row that disagrees with itself": (
        [(VALUES, '"invented2020"', '"memory"')],
        VALUES,
        "[[values]]",
        'but checked is "full-text"',
    ),
    "quotation without its work": (
        [(VALUES, '"full-text"', '"quoted-in"')],
        VALUES,
        "[[values]]",
        "quoting work is not named",
    ),
    "quoting work without a quotation": (
        [(VALUES, 'unit = "/min"', 'unit = "/min"\nquoted_in = "invented2020"')],
        VALUES,
        "[[values]]",
        "quoted_in is given",
    ),
    "figure in front matter without a source": (
        [(FINDING, "    source: invented2020\n    place: Table 1\n", "")],
        FINDING,
        "- condition: tiny-condition",
        "the row has no source",
    ),
    "number in front matter": (
        [(STEP, "position: Sitting.", "position: At 45°.")],
        STEP,
        "position: At 45°.",
        "number 45 has no source",
    ),
    "number in a sentence": (
        [(STEP, "Counting twice.", "Counting 12 twice.")],
        STEP,
        "Counting 12 twice.",
        "number 12 has no source",
    ),
    "number in a table": (
        [(STEP, "Counting twice.", "| A | B |\n| --- | --- |\n| 7 | 8 [common practice] |\n| 9 | – |")],
        STEP,
        "| 9 | – |",
        "number 9 has no source",
    ),
    "strength too strong": (
        [(FINDING, "lr_pos: 5.0", "lr_pos: 4.9")],
        FINDING,
        "strength: moderate",
        "lr_pos 4.9 makes it weak",
    ),
    "strength too weak": (
        [(FINDING, "strength: moderate", "strength: weak")],
        FINDING,
        "strength: weak",
        "makes it moderate",
    ),
    "strength without a ratio": (
        [(FINDING, "    lr_pos: 5.0\n    lr_pos_ci: [2.0, 9.5]\n", "")],
        FINDING,
        "strength: moderate",
        "no likelihood ratio is given",
    ),
    "ratio that speaks the other way": (
        [(FINDING, "direction: for", "direction: against")],
        FINDING,
        "direction: against",
        "does not speak",
    ),
    "ratio outside its interval": (
        [(FINDING, "[2.0, 9.5]", "[6.0, 9.5]")],
        FINDING,
        "lr_pos_ci: [6.0, 9.5]",
        "lies outside its interval",
    ),
    "caution without a source": (
        [(STEP, "press. [@invented2020, abstract]", "press.")],
        STEP,
        "Do not press.",
        "no source that was seen",
    ),
    "caution on common practice": (
        [(STEP, "press. [@invented2020, abstract]", "press. [common practice]")],
        STEP,
        "Do not press. [common practice]",
        "no source that was seen",
    ),
    "unknown grade of caution": (
        [(STEP, "!!! stop", "!!! stopp")],
        STEP,
        '!!! stopp "Not when it hurts"',
        'no grade "stopp"',
    ),
    "red flag on nothing seen": (
        [
            (FLAGS, '"invented2020"\nplace = "abstract"\nchecked = "abstract"', '"memory"\nchecked = "memory"'),
            (FLAGS, " [local sign-off]", ""),
        ],
        FLAGS,
        'act = "Call for help."',
        "rests on no source",
    ),
    "page outside the navigation": (
        [(NAV, "      - examination/tiny-step.md\n", "")],
        STEP,
        "---",
        "not in the navigation",
    ),
    "navigation without a page": (
        [(NAV, "Home: index.md", "Home: home.md")],
        NAV,
        "- Home: home.md",
        '"home.md", which is not there',
    ),
    "finding in the navigation": (
        [(NAV, "  - Examination:", "  - findings/tiny-sign.md\n  - Examination:")],
        NAV,
        "- findings/tiny-sign.md",
        "names the finding",
    ),
    "page in a wrong folder": (
        [(INDEX, "kind: article", "kind: condition")],
        INDEX,
        "kind: condition",
        "does not lie in content/conditions",
    ),
    "order taken twice": (
        [("content/examination/second-step.md", None, "---\nkind: step\norder: 10\n---\n")],
        STEP,
        "order: 10",
        "the order 10 is taken",
    ),
    "steps out of order": (
        [
            ("content/examination/second-step.md", None, "---\nkind: step\norder: 5\n---\n"),
            (
                NAV,
                "      - examination/tiny-step.md\n",
                "      - examination/tiny-step.md\n      - examination/second-step.md\n",
            ),
        ],
        NAV,
        "- examination/second-step.md",
        "stands after",
    ),
    "link to no page": (
        [(INDEX, "tiny-step.md", "tiny.md")],
        INDEX,
        "Start with the [step](examination/",
        "leads to no page",
    ),
    "link to no heading": (
        [(STEP, "#how-to-be-sure", "#how-to-be")],
        STEP,
        "Look again at the [sign](../findin",
        'has no heading "#how-to-be"',
    ),
    "link from the root": (
        [(INDEX, "(examination", "(/examination")],
        INDEX,
        "Start with the [step](/examination",
        "starts at the root",
    ),
    "link to no file": (
        [(INDEX, "examination/tiny-step.md", "tiny.svg")],
        INDEX,
        "Start with the [step](tiny.svg).",
        'file "tiny.svg" is not there',
    ),
    "address outside": (
        [(INDEX, "examination/tiny-step.md", "https://example.org/")],
        INDEX,
        "Start with the [step](https://exam",
        "outside the handbook",
    ),
    "picture outside": (
        [(INDEX, "Start", "![](//example.org/a.svg) Start")],
        INDEX,
        "![](//example.org/a.svg) Start wit",
        "outside the handbook",
    ),
    "script": (
        [(INDEX, "Start", "<script>x()</script> Start")],
        INDEX,
        "<script>x()</script> Start with th",
        "raw HTML is not allowed",
    ),
    "inline style": (
        [(INDEX, "Start", '<b style="color:red">Start</b>')],
        INDEX,
        '<b style="color:red">Start</b> wit',
        "raw HTML is not allowed",
    ),
    "inline handler": (
        [(INDEX, "Start", '<b onclick="x()">Start</b>')],
        INDEX,
        '<b onclick="x()">Start</b> with th',
        "raw HTML is not allowed",
    ),
    "abbreviation spelt out too late": (
        [(STEP, "Because it is tiny.", "The ECG is tiny.\nAn electrocardiogram (ECG) is not.")],
        STEP,
        "The ECG is tiny.",
        '"ECG" is not spelt out',
    ),
    "abbreviation in a text that stands alone": (
        [(STEP, "short: Look and count.", "short: Look at the ECG."), (STEP, "do: Look.", "do: Electrocardiogram.")],
        STEP,
        "short: Look at the ECG.",
        '"ECG" is not spelt out',
    ),
    "abbreviation that nobody listed": (
        [(STEP, "Because it is tiny.", "Because of XYZs.")],
        STEP,
        "Because of XYZs.",
        '"XYZ" is in no list',
    ),
    "abbreviation in a red flag": ([(FLAGS, "It may grow.", "The ECG grows.")], FLAGS, "why =", '"ECG" is not spelt'),
    "name of a file": ([("content/Tiny.svg", None, "<svg/>")], "content/Tiny.svg", "", "is not plain"),
    "type of a file": ([("content/tiny.exe", None, "x")], "content/tiny.exe", "", "do not belong here"),
    "empty file": ([("content/tiny.svg", None, "")], "content/tiny.svg", "", "the file is empty"),
    "picture that no page shows": ([("content/tiny.svg", None, "<svg/>")], "content/tiny.svg", "", "no page shows"),
    "drawing with a script": ([("content/tiny.svg", None, "<svg><script/></svg>")], "content/tiny.svg", "", "<script"),
    "drawing from outside": (
        [("content/tiny.svg", None, '<svg><image href="https://example.org/a.png"/></svg>')],
        "content/tiny.svg",
        "",
        "outside addresses",
    ),
}


def test_the_tiny_handbook_is_sound(load_tiny: Callable[..., Handbook]) -> None:
    """The handbook that the bad ones are made from has no problem at all."""
    assert report(load_tiny().problems) == "No problems."


@pytest.mark.parametrize("name", CASES)
def test_each_check_catches_its_bad_handbook(name: str, load_tiny: Callable[..., Handbook]) -> None:
    """A spoilt handbook is told with the file, the line and the cause."""
    changes, file, start, words = CASES[name]
    book = load_tiny(*changes)
    found = [each for each in book.problems if each.file == file and words in each.message + each.mend]
    assert len(found) == 1, report(book.problems)
    if start:
        line = (book.root / file).read_text(encoding="utf-8").splitlines()[found[0].line - 1]
        assert line.strip().startswith(start)
    else:
        assert found[0].line == 0
    assert all(each.mend for each in book.problems)


def test_an_id_is_used_once(load_tiny: Callable[..., Handbook]) -> None:
    """A second row with the same id is refused, and the first is named."""
    problems = load_tiny((VALUES, "[[values]]", '[[values]]\nid = "tiny-rate"\n[[values]]')).problems
    told = [str(each) for each in problems if "is there already" in each.message]
    assert len(told) == 1 and told[0].startswith(f"{VALUES}:4: ") and f"{VALUES}:2" in told[0]


def test_problems_are_sorted_and_counted() -> None:
    """The list reads file by file, line by line, and ends with the count."""
    later = Problem("b.md", 2, "found", "do")
    told = report([later, Problem("a.md", 10, "found", "do"), Problem("a.md", 9, "found", "do"), later])
    assert told.splitlines() == [
        "a.md:9: found. Mend: do.",
        "a.md:10: found. Mend: do.",
        "b.md:2: found. Mend: do.",
        "3 problems in 2 files.",
    ]


def test_each_abbreviation_is_listed_once_and_is_used() -> None:
    """What no page uses any more leaves the list, and what is exempt has its reason."""
    spelt, exempt = abbreviations.known()
    assert not spelt.keys() & exempt.keys()
    assert all(len(why.split()) > 3 for why in exempt.values())
    book = handbook.load(ROOT, unread_ok=True)
    text = " ".join(file.read_text(encoding="utf-8") for file in sorted((book.root / "content").rglob("*.*")))
    assert {short for short in (*spelt, *exempt) if not re.search(rf"\b{short}", text)} == set()
