"""References: every key must be known, every reference used, and one paper has one key."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from build_tools.citations import FROM_MEMORY, MARK, WITHOUT_SOURCE, Mark, marks_in
from build_tools.loading import line_of
from build_tools.problems import Problem
from build_tools.prose import CODE
from build_tools.references import FILE

if TYPE_CHECKING:
    from build_tools.handbook import Handbook

_WORD = re.compile(r"(?<![@\w-])[A-Za-z][\w-]*")
STATES = {"full-text", "abstract", "guideline-text", "quoted-in", "memory"}
SOURCE_KEYS = ("source", "quoted_in")


def check(handbook: Handbook) -> Iterator[Problem]:
    """Yield unknown keys, unreadable marks, rows without a source, unused references and doubled papers."""
    used: set[str] = set()
    for file, line, key in _keys(handbook):
        used.add(key)
        if key not in handbook.references:
            close = difflib.get_close_matches(key, handbook.references.entries, 1)
            yield Problem(
                file,
                line,
                f'no reference has the key "{key}"',
                f'did you mean "{close[0]}"? Or add the entry to {FILE}'
                if close
                else f"add the entry to {FILE}, or correct the key",
            )
    for key, entry in handbook.references.entries.items():
        unknown = sorted(set(entry.checked) - STATES)
        if unknown:
            yield Problem(
                FILE,
                entry.line,
                f'the entry "{key}" was checked as "{unknown[0]}"',
                f"write one or more of {', '.join(sorted(STATES))}",
            )
        if key not in used:
            yield Problem(FILE, entry.line, f'nothing cites the reference "{key}"', "cite it, or remove the entry")
    yield from _marks(handbook)
    yield from _sourced(handbook)
    yield from _doubled(handbook)


def _texts(handbook: Handbook) -> Iterator[tuple[str, int, str]]:
    """Yield file, line and every text that may carry marks."""
    for page in handbook.pages.values():
        for path, text in _strings(page.meta):
            yield page.file, page.line(*path), text
        for line in page.prose:
            if line.form in ("text", "title", "heading"):
                yield page.file, line.number, line.text
    for sheet in handbook.sheets.values():
        for path, text in _strings(sheet.data):
            yield sheet.file, line_of(sheet.lines, path), text
    for group, rows in (("values", handbook.values), ("tables", handbook.tables), ("red_flags", handbook.red_flags)):
        for name, row in rows.items():
            place = handbook.rows[(group, name)]
            for path, text in _strings(row):
                yield place.file, place.line(*path), text
    for model in handbook.models.values():
        for path, row in model.sourced():
            yield model.file, line_of(model.lines, (*path, "source")), str(row["source"])
    for name, row in handbook.captions.items():
        place = handbook.rows[("captions", name)]
        yield place.file, place.line("text"), str(row.get("text", ""))


def _strings(node: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[tuple[Any, ...], str]]:
    if isinstance(node, str):
        yield path, node
    elif isinstance(node, dict):
        for key, value in node.items():
            yield from _strings(value, (*path, key))
    elif isinstance(node, list):
        for index, value in enumerate(node):
            yield from _strings(value, (*path, index))


def _keys(handbook: Handbook) -> Iterator[tuple[str, int, str]]:
    """Yield file, line and key of every citation: in marks, and under the keys of rows that name a source."""
    for file, line, text in _texts(handbook):
        for mark in marks_in(text):
            for key in mark.keys:
                yield file, line, key
    for file, line, path, text in _source_fields(handbook):
        if path[-1] in SOURCE_KEYS and text not in WITHOUT_SOURCE:
            yield file, line, text


def _source_fields(handbook: Handbook) -> Iterator[tuple[str, int, tuple[Any, ...], str]]:
    for page in handbook.pages.values():
        for path, text in _strings({key: page.meta.get(key) for key in ("points_to", "agreement")}):
            yield page.file, page.line(*path), path, text
    for sheet in handbook.sheets.values():
        for path, text in _strings(sheet.data):
            yield sheet.file, line_of(sheet.lines, path), path, text
    for group, rows in (("values", handbook.values), ("tables", handbook.tables), ("red_flags", handbook.red_flags)):
        for name, row in rows.items():
            place = handbook.rows[(group, name)]
            for path, text in _strings(row):
                yield place.file, place.line(*path), path, text


def _marks(handbook: Handbook) -> Iterator[Problem]:
    for file, line, text in _texts(handbook):
        for mark in marks_in(text):
            if mark.fault:
                yield Problem(
                    file,
                    line,
                    f"the mark [{mark.text}] cannot be read: {mark.fault}",
                    "write [@key, place], parts parted by semicolons, or [common practice]",
                )
            if FROM_MEMORY not in mark.states:
                yield from _unseen(handbook, file, line, mark)
        for word in _WORD.findall(MARK.sub(" ", CODE.sub(" ", text))):
            if word in handbook.references and any(letter.isdigit() for letter in word) and text != word:
                yield Problem(
                    file, line, f'the key "{word}" stands in the text as a word', f"write [@{word}], or name the work"
                )
        for stray in re.finditer(r"(?<![\w\[;(,])@[a-z][a-z0-9_:-]*\d{4}", text):
            if "[" not in text[: stray.start()].rpartition("]")[2]:
                yield Problem(
                    file, line, f'"{stray.group()}" stands outside square brackets', f"write [{stray.group()}]"
                )


def _unseen(handbook: Handbook, file: str, line: int, mark: Mark) -> Iterator[Problem]:
    """Yield works cited as if they had been seen, which their own entry says nobody has."""
    for use in mark.uses:
        entry = handbook.references.entries.get(use.key)
        if entry and entry.unseen and not use.quoted_in:
            yield Problem(
                file,
                line,
                f'"{use.key}" is cited as seen, but its entry says: {", ".join(entry.checked)}',
                f"write [@{use.key}; quoted in @the-work-that-was-read] or [from memory; @{use.key}]",
            )


def _sourced(handbook: Handbook) -> Iterator[Problem]:
    """Check that each row of data says what it rests on, in keys that agree."""
    for page in handbook.pages.values():
        for index, entry in enumerate(page.listed("points_to")):
            if isinstance(entry, dict):
                yield from _row(entry, page.file, page.line("points_to", index))
        if isinstance(page.meta.get("agreement"), dict):
            yield from _row(page.meta["agreement"], page.file, page.line("agreement"))
    for group, rows in (("values", handbook.values), ("tables", handbook.tables), ("red_flags", handbook.red_flags)):
        for name, row in rows.items():
            place = handbook.rows[(group, name)]
            yield from _row(row, place.file, place.line())


def _row(row: dict[str, Any], file: str, line: int) -> Iterator[Problem]:
    checked, source = row.get("checked"), row.get("source")
    plain = source is None or source in WITHOUT_SOURCE
    if source in WITHOUT_SOURCE and checked != source:
        yield Problem(
            file, line, f'the source is "{source}" but checked is "{checked}"', f"write checked: {source} as well"
        )
    elif plain and checked not in WITHOUT_SOURCE:
        yield Problem(
            file,
            line,
            "the row has no source",
            "add source (a key of the references), place and checked; or checked: common-practice or memory",
        )
    elif not plain and not row.get("place") and checked not in WITHOUT_SOURCE:
        yield Problem(
            file, line, f'the row does not say where in "{source}"', "add place: a table, figure, section or abstract"
        )
    if checked == "quoted-in" and not row.get("quoted_in"):
        yield Problem(file, line, "checked is quoted-in, but the quoting work is not named", "add quoted_in: its key")
    if row.get("quoted_in") and checked not in ("quoted-in", "memory"):
        yield Problem(
            file,
            line,
            f'quoted_in is given, but checked is "{checked}"',
            "write checked: quoted-in, or remove quoted_in",
        )


def _doubled(handbook: Handbook) -> Iterator[Problem]:
    dois: dict[str, str] = {}
    titles: dict[tuple[str, str], str] = {}
    for key, entry in handbook.references.entries.items():
        doi = entry.fields.get("doi", "").lower().removeprefix("https://doi.org/")
        title = re.sub(r"[^a-z0-9]+", " ", entry.fields.get("title", "").lower()).strip()
        about = (title, entry.fields.get("year", ""))
        # Short titles ("Hypertension") are shared by different works.
        twin = dois.get(doi) if doi else titles.get(about) if len(title.split()) > 3 else None
        if twin:
            yield Problem(
                FILE,
                entry.line,
                f'"{key}" is the same paper as "{twin}"',
                f"cite {twin} everywhere and remove this entry",
            )
        if doi:
            dois.setdefault(doi, key)
        titles.setdefault(about, key)
