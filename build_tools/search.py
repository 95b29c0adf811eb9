"""The search index: read from the finished pages, with the names that readers type and pages do not use.

A page says "collapsing pulse"; readers also type water hammer, Corrigan, or a plural, an American spelling or
S3 for S₃. So titles, aliases and words are folded to one plain form here, and the page script folds what is
typed by the same rules (`folded_words` here, `foldedWords` in web/scripts/words.js; a test compares them).
The index holds, for each word, the pages with a weight that is worked out here, so that a phone only adds up.

A phone fetches it whole, so it is kept small: small numbers in place of large ones, since those compress well, no
words that tell nothing, and sections only where a result shows them.
"""

from __future__ import annotations

import json
import math
import re
import unicodedata
from collections import defaultdict
from dataclasses import dataclass, field
from functools import cache
from html.parser import HTMLParser
from pathlib import Path
from typing import TYPE_CHECKING, Any

from build_tools.citations import without_marks_and_values
from build_tools.values import in_table

if TYPE_CHECKING:
    from build_tools.handbook import Handbook

INDEX = "search/index.json"

# How much a word counts by where it stands. A name of few words says more by each of them.
TITLE, ALIAS, HEADING, ABOUT, BODY = 12.0, 9.0, 3.0, 3.0, 1.0

ABOUT_LENGTH = 110

# Words of a question that say nothing about its subject. The page is told them in the index.
_EMPTY = (
    "a an and are as at be between by can do doe for from how i if in is it mean me my of on or patient person should "
    "someone that the there thi to u was what when where which who with you"
)
EMPTY = frozenset(_EMPTY.split())
# The kinds of page whose results name the section to go to.
WITH_SECTIONS = ("step",)
GROUP_WORDS = {
    "older": "older elderly old age",
    "child": "child children paediatric",
    "newborn": "newborn neonate baby infant",
    "pregnancy": "pregnancy pregnant",
    "adult": "adult",
    "any": "adult",
}

_WORD = re.compile(r"[a-z0-9]+(?:\.[0-9]+)?")
_APOSTROPHE = re.compile("['\N{RIGHT SINGLE QUOTATION MARK}]")
_VOID = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"}
_SKIPPED_TAGS = {"script", "style", "form", "nav", "h1"}
_SKIPPED_CLASSES = {"references", "calculator-result", "cite", "mark", "mark-meanings"}


@dataclass
class Section:
    """A stretch of a page below one heading: the anchor ("" above the first), its heading, its words."""

    anchor: str = ""
    heading: str = ""
    text: list[str] = field(default_factory=list)


@dataclass
class Entry:
    """One thing to find: address in the site, title, kind, one line about it, other names, its sections."""

    address: str
    title: str
    kind: str
    about: str
    aliases: list[str]
    sections: list[Section]


def write_index(handbook: Handbook, site_dir: Path | str) -> None:
    """Read every built page of the handbook and write the search index beside them."""
    site = Path(site_dir)
    path = site / INDEX
    path.parent.mkdir(parents=True, exist_ok=True)
    found = json.dumps(index(entries(handbook, site)), ensure_ascii=False, separators=(",", ":"))
    path.write_text(found, encoding="utf-8", newline="\n")


def entries(handbook: Handbook, site: Path) -> list[Entry]:
    """Give everything that can be found: pages, then normal values. A page that was not built is left out."""
    found: list[Entry] = []
    for page in sorted(handbook.pages.values(), key=lambda page: page.id):
        built = site / f"{page.id}.html"
        if not built.is_file():
            continue
        sections = read_sections(built.read_text(encoding="utf-8"))
        # The file name is one more name: it often holds the plain words that the title avoids.
        aliases = [*map(str, page.listed("aliases")), page.slug.replace("-", " ")]
        for calculator in page.listed("calculators"):
            if sheet := handbook.sheets.get(calculator):
                aliases += [str(sheet.data.get("title", "")), *sheet.data.get("aliases", [])]
        found.append(
            Entry(f"{page.id}.html", page.title, page.kind, _about(page.meta, sections), aliases, sections)
        )
    for value_id, row in handbook.values.items():
        found.append(_value_entry(handbook, value_id, row))
    return found


def read_sections(page: str) -> list[Section]:
    """Split the article of a built page at its second-level headings; forms, references and marks are left out."""
    reader = _Reader()
    # What stands before and after is as long as the text, and would be read for nothing.
    reader.feed(page[page.find("<article") : page.rfind("</article>")])
    reader.close()
    return reader.sections


def folded_words(text: str) -> list[str]:
    """Fold text to the plain words that are compared: no accents, indices as digits, one spelling, no plurals."""
    plain = _APOSTROPHE.sub("", text)
    if not plain.isascii():
        plain = "".join(sign for sign in unicodedata.normalize("NFKD", plain) if not unicodedata.combining(sign))
    plain = plain.lower()
    return [_folded(word) for word in _WORD.findall(plain)]


@cache
def _folded(word: str) -> str:
    word = word.replace("ae", "e").replace("oe", "e")
    if len(word) > 4 and word.endswith("our"):
        word = word[:-3] + "or"
    if len(word) > 3:
        if word.endswith("oses"):
            return word[:-2] + "is"
        if word.endswith("ies"):
            return word[:-3] + "y"
        if word.endswith(("sses", "xes", "ches", "shes")):
            return word[:-2]
        if word.endswith("s") and not word.endswith(("ss", "us", "is")):
            return word[:-1]
    return word


def index(found: list[Entry]) -> dict[str, Any]:
    """Work out the index of some entries.

    pages: [address, title, kind, about, sections] of each entry, a section as [anchor, heading]; most have none.
    names: folded title or alias -> entries. empty: words to leave out of a question. words: folded word -> flat list
    of three numbers for each entry that holds it: how far its number is from the one before (the first from 0),
    the section it stands out in (1 for the first, 0 for the page as a whole), and its weight: ten times its value,
    to two digits, and at least 1.
    """
    pages: list[list[Any]] = []
    names: dict[str, list[int]] = defaultdict(list)
    weights: dict[str, list[tuple[int, int, float]]] = defaultdict(list)
    for number, entry in enumerate(found):
        sections = [one for one in entry.sections if one.anchor] if entry.kind in WITH_SECTIONS else []
        places = {section.anchor: place for place, section in enumerate(sections, 1)}
        shown = [[section.anchor, section.heading] for section in sections]
        pages.append([entry.address, entry.title, entry.kind, entry.about, *([shown] if shown else [])])
        for name in (entry.title, *entry.aliases):
            folded = " ".join(folded_words(name))
            if folded and number not in names[folded]:
                names[folded].append(number)
        for word, (weight, anchor) in _words_of(entry).items():
            weights[word].append((number, places.get(anchor, 0), weight))
    words: dict[str, list[int]] = {}
    for word in sorted(weights.keys() - EMPTY):
        rarity = math.log(1 + len(found) / len(weights[word]))
        flat: list[int] = []
        before = 0
        for number, place, weight in weights[word]:
            flat += [number - before, place, _two_digits(10 * weight * rarity)]
            before = number
        words[word] = flat
    return {"pages": pages, "names": dict(sorted(names.items())), "empty": sorted(EMPTY), "words": words}


def _two_digits(weight: float) -> int:
    """Round a weight to two digits: no order of results hangs on the third, and there are fewer numbers to tell."""
    return max(1, int(float(f"{weight:.2g}")))


def _words_of(entry: Entry) -> dict[str, tuple[float, str]]:
    """Give word -> (weight, anchor of the section it stands out in, or an empty text)."""
    total: dict[str, float] = defaultdict(float)
    best: dict[str, tuple[float, str]] = {}
    for name, weight in [(entry.title, TITLE), *((alias, ALIAS) for alias in entry.aliases)]:
        words = folded_words(name)
        for word in sorted(set(words)):
            # Aliases repeat each other's words; only the shortest name of each word counts.
            total[word] = max(total[word], weight / math.sqrt(len(words)))
    for word in sorted(set(folded_words(entry.about))):
        total[word] += ABOUT
    for section in entry.sections:
        counts: dict[str, float] = defaultdict(float)
        for word in folded_words(" ".join(section.text)):
            counts[word] += 1
        for word in counts:
            counts[word] = BODY * math.sqrt(min(counts[word], 9))
        for word in sorted(set(folded_words(section.heading))):
            counts[word] += HEADING
        for word, weight in counts.items():
            total[word] += weight / 2
            if section.anchor and weight > best.get(word, (0.0, ""))[0]:
                best[word] = (weight, section.anchor)
    return {word: (weight, best.get(word, (0.0, ""))[1]) for word, weight in total.items()}


def _about(meta: dict[str, Any], sections: list[Section]) -> str:
    words = str(meta.get("sees") or meta.get("short") or " ".join(sections[0].text if sections else []))
    words = without_marks_and_values(" ".join(words.split()))
    if len(words) <= ABOUT_LENGTH:
        return words
    return words[:ABOUT_LENGTH].rsplit(" ", 1)[0] + " …"


def _value_entry(handbook: Handbook, value_id: str, row: dict[str, Any]) -> Entry:
    aliases = [*row.get("aliases", []), str(row.get("sign", "")), value_id.replace("-", " ")]
    group = GROUP_WORDS.get(str(row.get("group", "any")), "")
    section = Section(text=[str(row.get("who", "")), group, str(row.get("note", "")), "normal range value"])
    about = f"{in_table(handbook, row)} · {row.get('who', '')}".strip(" ·")
    return Entry(f"values/index.html#value-{value_id}", str(row["quantity"]), "value", about, aliases, [section])


class _Reader(HTMLParser):
    """Collects the sections of the <article> that holds a page's text."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.sections: list[Section] = [Section()]
        self._articles = 0
        self._skipping = 0
        self._heading = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        if self._skipping:
            if tag not in _VOID:
                self._skipping += 1
            return
        if tag == "article":
            self._articles += 1
        classes = set((given.get("class") or "").split())
        if tag in _SKIPPED_TAGS or "data-search-exclude" in given or classes & _SKIPPED_CLASSES:
            if tag not in _VOID:
                self._skipping = 1
        elif self._articles and tag == "h2":
            self.sections.append(Section(anchor=given.get("id") or ""))
            self._heading = True

    def handle_endtag(self, tag: str) -> None:
        if self._skipping:
            self._skipping -= 1
        elif tag == "article":
            self._articles -= 1
        elif tag == "h2":
            self._heading = False

    def handle_data(self, data: str) -> None:
        if not self._articles or self._skipping:
            return
        if self._heading:
            self.sections[-1].heading += data
        elif words := " ".join(data.split()):
            self.sections[-1].text.append(words)
