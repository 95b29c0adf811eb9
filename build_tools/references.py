"""The references: content/references.bib read with its lines, and each entry set in the NLM style."""

from __future__ import annotations

import hashlib
import json
import re
import warnings
from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cache, cached_property
from importlib.metadata import version
from pathlib import Path
from typing import Any

from build_tools.loading import Unreadable, read_text
from build_tools.problems import Problem

STYLE = Path(__file__).parent / "citation_style" / "nlm-citation-sequence.csl"
FILE = "content/references.bib"
KEPT = ".build/references.json"
ENTRY = re.compile(r"^[ \t]*@(\w+)\s*\{\s*([^\s,{}]+)\s*,", re.MULTILINE)

# What each BibTeX type is in the citation style's own words.
TYPES = {
    "article": "article-journal",
    "book": "book",
    "inbook": "chapter",
    "incollection": "chapter",
    "inproceedings": "paper-conference",
    "techreport": "report",
    "phdthesis": "thesis",
}
FIELDS = {
    "journal": "container-title",
    "booktitle": "container-title",
    "publisher": "publisher",
    "institution": "publisher",
    "howpublished": "publisher",
    "address": "publisher-place",
    "edition": "edition",
    "volume": "volume",
    "pages": "page",
    "title": "title",
}


@dataclass
class Reference:
    """One entry: BibTeX type, plain-text fields, authors as name parts, line of the entry."""

    key: str
    type: str
    fields: dict[str, str]
    people: dict[str, list[dict[str, str]]]
    line: int

    @property
    def note(self) -> str:
        return self.fields.get("note", "")

    @property
    def checked(self) -> tuple[str, ...]:
        """How claims from it were seen, as its own field `checked` says: "abstract", or "abstract, full-text"."""
        return tuple(re.split(r"[,\s]+", self.fields["checked"])) if self.fields.get("checked") else ()

    @property
    def unseen(self) -> bool:
        """Whether nobody has seen the work itself, only what others quote from it or what memory holds."""
        return bool(self.checked) and not set(self.checked) - {"quoted-in", "memory"}

    @property
    def name(self) -> str:
        """Who and when, for a sentence: "McGee 1998"."""
        people = self.people.get("author") or self.people.get("editor") or []
        who = (
            (people[0].get("family") or people[0].get("literal", "")) if people else self.fields.get("title", self.key)
        )
        return f"{who} {self.fields.get('year', '')}".strip()


@dataclass
class References:
    """All references by key, and the problems met in reading them.

    Setting hundreds of entries takes seconds, so they are kept in a file from build to build."""

    entries: dict[str, Reference] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    kept: Path | None = None

    def __contains__(self, key: object) -> bool:
        return key in self.entries

    def formatted(self, keys: Iterable[str]) -> dict[str, str]:
        """Return the HTML of each key's entry in the numeric NLM style, without its number."""
        names = {key: _name(self.entries[key]) for key in keys if key in self.entries}
        wanted = {name: self.entries[key] for key, name in names.items() if name not in self._set}
        if wanted:
            self._set.update(zip(wanted, _set_in_style(list(wanted.values())), strict=True))
            if self.kept:
                self.kept.parent.mkdir(parents=True, exist_ok=True)
                present = {name: self._set[name] for name in map(_name, self.entries.values()) if name in self._set}
                self.kept.write_text(json.dumps(present, ensure_ascii=False, indent=0), encoding="utf-8")
        return {key: self._set[name] for key, name in names.items()}

    @cached_property
    def _set(self) -> dict[str, str]:
        """What has been set already, by a name that covers everything it depends on."""
        try:
            return dict(json.loads(self.kept.read_text(encoding="utf-8"))) if self.kept else {}
        except (OSError, ValueError):
            return {}


def load_references(root: Path) -> References:
    """Read content/references.bib below the root. Faults become problems, never exceptions."""
    path = root / FILE
    found = References(kept=root / KEPT)
    if not path.exists():
        return found
    try:
        text = read_text(path)
    except Unreadable as fault:
        found.problems.append(Problem(FILE, fault.line, fault.message, fault.mend))
        return found
    starts = list(ENTRY.finditer(text))
    for index, start in enumerate(starts):
        kind, key = start.group(1).lower(), start.group(2)
        if kind in ("comment", "string", "preamble"):
            continue
        line = text.count("\n", 0, start.start()) + 1
        end = starts[index + 1].start() if index + 1 < len(starts) else len(text)
        if key in found.entries:
            found.problems.append(
                Problem(
                    FILE,
                    line,
                    f'the key "{key}" stands for two entries, here and on line {found.entries[key].line}',
                    "give the second paper a key of its own, or remove the entry if it is the same paper",
                )
            )
            continue
        try:
            found.entries[key] = _read_entry(key, kind, text[start.start() : end], line)
        except ValueError as fault:
            found.problems.append(
                Problem(
                    FILE,
                    line,
                    f'the entry "{key}" cannot be read: {fault}',
                    "close every brace and put a comma after every field",
                )
            )
    return found


def _read_entry(key: str, kind: str, text: str, line: int) -> Reference:
    from pybtex.database.input.bibtex import Parser
    from pybtex.exceptions import PybtexError
    from pybtex.richtext import Text

    try:
        entry = Parser().parse_string(text).entries[key]
    except (PybtexError, KeyError) as fault:
        raise ValueError(str(fault).splitlines()[0] if str(fault) else "syntax") from None

    def plain(value: str) -> str:
        # Reading LaTeX takes time, and most fields hold none.
        text = str(Text.from_latex(value)) if re.search(r"[\\{}$~]", value) else value.replace("--", "–")
        return re.sub(r"\s+", " ", text).strip()

    people = {
        role: [
            {"literal": plain(" ".join(person.last_names))}
            if len(person.last_names) == 1 and person.last_names[0].startswith("{") and not person.first_names
            else {
                "family": plain(" ".join([*person.prelast_names, *person.last_names])),
                "given": plain(" ".join([*person.first_names, *person.middle_names])),
                "suffix": plain(" ".join(person.lineage_names)),
            }
            for person in persons
        ]
        for role, persons in sorted(entry.persons.items())
    }
    return Reference(key, kind, {name.lower(): plain(value) for name, value in entry.fields.items()}, people, line)


def _as_csl(reference: Reference) -> dict[str, Any]:
    """Return an entry as the JSON that the citation style reads."""
    fields = reference.fields
    item: dict[str, Any] = {"id": reference.key, "type": TYPES.get(reference.type, "report")}
    for name, target in FIELDS.items():
        if fields.get(name):
            item.setdefault(target, fields[name])
    if "page" in item:
        item["page"] = item["page"].replace("\u2013", "-")
    if fields.get("number"):
        item["issue" if reference.type == "article" else "number"] = fields["number"]
    if fields.get("doi"):
        item["DOI"] = fields["doi"]
    if year := re.search(r"\d{4}", fields.get("year", "")):
        item["issued"] = {"date-parts": [[int(year.group())]]}
    for role, people in reference.people.items():
        names = [{part: text for part, text in person.items() if text} for person in people]
        item[role] = [{"literal": "et al"} if name == {"family": "others"} else name for name in names]
    return item


@cache
def _maker() -> str:
    """Return a hash over what turns an entry into text: the style, this module and the version of citeproc."""
    files = STYLE.read_bytes() + Path(__file__).read_bytes()
    return hashlib.sha256(files + version("citeproc-py").encode()).hexdigest()


def _name(reference: Reference) -> str:
    """Return the name under which an entry is kept: it changes with the entry and with how it is set."""
    return hashlib.sha256((_maker() + json.dumps(_as_csl(reference))).encode()).hexdigest()[:32]


def _set_in_style(references: list[Reference]) -> list[str]:
    """Return the text of each entry. The style numbers them, so that none depends on the others."""
    from citeproc import Citation, CitationItem, CitationStylesBibliography, CitationStylesStyle, formatter
    from citeproc.source.json import CiteProcJSON

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # citeproc warns of style features that it leaves out; none matters here
        style = CitationStylesStyle(str(STYLE), validate=False)
        # Keys are numbered for citeproc, which folds their case.
        source = CiteProcJSON([{**_as_csl(reference), "id": str(index)} for index, reference in enumerate(references)])
        bibliography = CitationStylesBibliography(style, source, formatter.html)
        for index in range(len(references)):
            bibliography.register(Citation([CitationItem(str(index))]))
        return [_tidy(str(line)) for line in bibliography.bibliography()]


def _tidy(line: str) -> str:
    line = re.sub(r"^\s*\d+\.\s*", "", line)
    # A book without an author opens with its editors, whom citeproc then names again.
    if editors := re.match(r"[^.]+, editors?\. ", line):
        line = editors.group() + line[editors.end() :].replace(editors.group(), "")
    # The style closes every part with a full stop, also after a question.
    return re.sub(r"([.?!])\.+", r"\1", line).strip()
