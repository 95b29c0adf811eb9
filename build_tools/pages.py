"""A page from its source: what its front matter and fenced blocks stand for, put where the reader needs it.

It happens in two halves around MkDocs. `prepared` returns Markdown in which everything that is not Markdown is a
token; `finished` takes the HTML that came of it, puts the pieces in the place of the tokens and numbers the marks.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from html import escape

from build_tools import boxes, tables
from build_tools.citations import MARK, VALUE, without_marks
from build_tools.citing_pages import Numbering
from build_tools.handbook import Handbook, Page
from build_tools.markup import Writer, mark_up_tables
from build_tools.prose import ADMONITION, FENCE
from build_tools.values import in_words
from calculators.wording import GRADES

# Tokens are made of private-use characters, which no text holds and Markdown leaves alone.
START, END, ZERO = "\ue000", "\ue001", 0xE010
BLOCK = re.compile(rf"<p>{START}([\ue010-\ue019]+){END}</p>")
TOKEN = re.compile(rf"{START}([\ue010-\ue019]+){END}")
SOURCES = "Sources"
_TAG = re.compile(r"<[^>]*>")
_RATIO = re.compile(r"<[^>]*>|LR(?=[+−])")


class Draft:
    """One page on its way through MkDocs."""

    def __init__(self, handbook: Handbook, page: Page) -> None:
        self.handbook = handbook
        self.page = page
        self.writer = Writer(handbook, page)
        self.pieces: list[str] = []

    def prepared(self) -> str:
        """Return the page as Markdown, with tokens for everything that is not."""
        lines = self._lines()
        sections = _sections(lines)
        for heading, before, after in self._additions():
            if heading in sections:
                first, *rest = sections[heading] or [""]
                above = ["", self._token(before), ""] if before else []
                below = ["", self._token(after), ""] if after else []
                sections[heading] = [first, *above, *rest, *below]
        flat: list[str] = []
        ways_on = self._ways_on()
        for heading, section in sections.items():
            if heading == SOURCES and ways_on:
                flat += ["", self._token(ways_on), ""]
            flat += section
        if SOURCES not in sections and ways_on:
            flat += ["", self._token(ways_on), ""]
        top = self._top()
        start = [self._token(top), ""] if top else []
        if SOURCES not in sections and any(MARK.search(piece) for piece in self.pieces):
            flat += ["", f"## {SOURCES}", ""]
        return "\n".join([*start, *flat])

    def finished(self, html: str) -> str:
        """Return the HTML of the page with the pieces put in, tables marked up and marks numbered."""
        html = mark_up_tables(html)
        html = BLOCK.sub(lambda found: self._piece(found.group(1)), html)
        html = TOKEN.sub(lambda found: self._piece(found.group(1)), html)
        html = with_ratio_spelt_out(html)
        numbering = Numbering(self.handbook.references)
        html = numbering.apply(html)
        return f"{html}\n{numbering.sources()}" if numbering.numbers or numbering.states else html

    def _token(self, piece: str) -> str:
        self.pieces.append(piece)
        digits = "".join(chr(ZERO + int(digit)) for digit in str(len(self.pieces) - 1))
        return f"{START}{digits}{END}"

    def _piece(self, digits: str) -> str:
        return self.pieces[int("".join(str(ord(digit) - ZERO) for digit in digits))]

    def _lines(self) -> list[str]:
        """Return the lines of the body with marks, values, cautions and fenced blocks turned into tokens."""
        lines: list[str] = []
        embeds = {line: (kind, name) for line, kind, name in self.page.embeds}
        skipping = False
        for line in self.page.prose:
            if line.form == "fence" and line.number in embeds and embeds[line.number][0] in EMBEDS:
                kind, name = embeds[line.number]
                found = FENCE.match(line.text)
                inset = found.group(1) if found else ""
                lines += ["", inset + self._token(EMBEDS[kind](self.writer, name)), ""]
                skipping = True
            elif skipping:
                skipping = line.form != "fence"
            elif line.form == "title":
                lines.append(_graded(line.text))
            elif line.form == "text":
                lines.append(self._inline(line.text))
            else:
                lines.append(line.text)
        return lines

    def _inline(self, text: str) -> str:
        text = MARK.sub(lambda found: self._token(escape(found.group(), quote=False)), text)
        return VALUE.sub(lambda found: self._token(self.writer.value(found.group(1))), text)

    def _top(self) -> str:
        writer, page = self.writer, self.page
        match page.kind:
            case "step":
                return boxes.summary(writer, page) + boxes.step_facts(writer, page)
            case "finding":
                return f'<p class="sees">{writer.text(page.meta["sees"])}</p>' + boxes.finding_facts(writer, page)
        return ""

    def _ways_on(self) -> str:
        """Return the links that close a page to which others lead."""
        match self.page.kind:
            case "condition":
                return boxes.condition_facts(self.writer, self.page)
            case "calculators":
                return boxes.calculators_facts(self.writer, self.page)
        return ""

    def _additions(self) -> list[tuple[str, str, str]]:
        """Return headings, and what opens and closes their section by itself."""
        writer, page = self.writer, self.page
        match page.kind:
            case "step":
                return [
                    ("Normal", "", tables.normal_values(writer, page.listed("values"))),
                    ("Not normal", "", tables.findings(writer, page) + self._flags()),
                    ("Write it down", "", boxes.step_record(writer, page)),
                ]
            case "finding":
                agreement = page.meta.get("agreement")
                act = f'<p class="now">{writer.text(page.meta["now"])}</p>'
                return [
                    ("Points to", "", tables.points_to(writer, page)),
                    ("How good", "", tables.agreement(writer, agreement) if agreement else ""),
                    # What to do comes before what explains it.
                    ("Now", act + self._flags(), boxes.finding_record(writer, page)),
                ]
            case "condition":
                return [
                    ("Signs by strength", "", tables.signs(writer, page)),
                    ("Red flags", "", self._flags()),
                ]
        return []

    def _flags(self) -> str:
        """Return the red flags of the front matter that the text does not show at a place of its own."""
        placed = {name for _, kind, name in self.page.embeds if kind == "red-flag"}
        named = [*self.page.listed("red_flags"), *filter(None, [self.page.meta.get("red_flag")])]
        return "".join(boxes.red_flag(self.writer, name) for name in named if name not in placed)


def with_ratio_spelt_out(html: str) -> str:
    """Return HTML with the words "likelihood ratio" before the first LR, unless they stand somewhere before it."""
    first = next((found.start() for found in _RATIO.finditer(html) if found.group() == "LR"), None)
    if first is None or "ikelihood ratio" in _TAG.sub("", html[:first]):
        return html
    opens = html[:first].rstrip()[-1:] in (">", ".")
    return f"{html[:first]}{'Likelihood' if opens else 'likelihood'} ratio {html[first:]}"


def plain_meta(handbook: Handbook, page: Page) -> dict[str, object]:
    """Return the front matter with its marks taken out and its values filled in, for titles and search."""

    def plain(node: object) -> object:
        if isinstance(node, str):
            filled = VALUE.sub(lambda found: in_words(handbook, handbook.values[found.group(1)]), node)
            return without_marks(filled)
        if isinstance(node, list):
            return [plain(each) for each in node]
        if isinstance(node, dict):
            return {key: plain(each) for key, each in node.items()}
        return node

    return {key: plain(value) for key, value in page.meta.items()}


def _graded(title: str) -> str:
    """Return the opening line of a caution with its grade in words."""
    found = ADMONITION.match(title)
    if not found or found.group(2) not in GRADES:
        return title
    grade = f'<span class="grade">{GRADES[found.group(2)]}</span>'
    words = found.group(3)
    # Markdown reads the title as it is, so quotation marks inside the label are left out.
    grade = grade.replace('"', "'")
    return f'{found.group(1)}!!! {found.group(2)} "{grade}{f": {words}" if words else ""}"'


def _sections(lines: list[str]) -> dict[str, list[str]]:
    """Return the lines under each heading of the second level, what comes before them under the empty text."""
    sections: dict[str, list[str]] = {"": []}
    current = sections[""]
    for line in lines:
        if line.startswith("## "):
            current = sections.setdefault(line.removeprefix("## ").strip(" #"), [])
        current.append(line)
    return sections


def _calculator(writer: Writer, name: str) -> str:
    from build_tools.embeds import calculator_html

    return calculator_html(writer.handbook, name)


def _figure(writer: Writer, name: str) -> str:
    """Return a drawing with its caption, and what it shows in words for whoever does not see it."""
    from build_tools.figures import draw, in_words

    drawn = draw(name, prefix=name)
    row = writer.handbook.captions.get(name)
    caption = f"<p>{writer.text(row['text'])}</p>" if row else ""
    told = f"<details><summary>In words</summary><p>{in_words(drawn)}</p></details>"
    return f'<figure class="figure">{drawn}<figcaption>{caption}{told}</figcaption></figure>'


def _listing(writer: Writer, name: str) -> str:
    from build_tools.listings import LISTINGS

    return LISTINGS[name](writer.handbook)


def _laboratory(writer: Writer, name: str) -> str:
    from build_tools.laboratories import LABORATORIES

    return LABORATORIES[name].html(writer.handbook)


def _sound(writer: Writer, name: str) -> str:
    """Return the way to a sound in the listening room."""
    from build_tools import listening_room

    scene = listening_room.scenes(writer.handbook)[name]
    address = escape(writer.address(listening_room.PAGE, listening_room.anchor(name)))
    return f'<p class="hear"><a href="{address}">Hear it: {escape(scene["name"])}</a> (synthetic teaching sound)</p>'


EMBEDS: dict[str, Callable[[Writer, str], str]] = {
    "calculator": _calculator,
    "figure": _figure,
    "laboratory": _laboratory,
    "listing": _listing,
    "red-flag": boxes.red_flag,
    "sound": _sound,
    "values-table": tables.data_table,
}
