"""Second reads: which figures someone who did not write them has held against their source.

A unit is a numbered line of a page or a caption, a row of data, a red flag or a part of a calculator's sheet or of a
model's data. Its hash
covers where it stands, its numbers and the keys of its sources: words may be mended freely, a changed number
or source ends the read.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from build_tools.checks.numbers import numbers_in
from build_tools.citations import WITHOUT_SOURCE, Mark, mark_of, marks_in, without_marks
from build_tools.loading import Written, line_of, load_toml
from build_tools.prose import texts

if TYPE_CHECKING:
    from build_tools.handbook import Handbook, Model, Page, Sheet

LEDGER = "content/second_reads.toml"
# Keys that name or arrange things; what digits they hold is no figure.
SETTINGS = {"id", "source", "quoted_in", "place", "checked", "aliases", "step", "calculator", "condition", "scale",
            "ruler", "places", "order", "columns"}  # fmt: skip
QUOTE = 90  # characters of the text that an entry of the ledger repeats
HEAD = """# Second reads: who writes a page does not sign it. Made by `python -m build_tools second-read sign PAGE`.
# hash: over place, numbers and source keys; date: when the figures were held against their source; says: the text.
"""


@dataclass(frozen=True)
class Unit:
    """One thing to read: page or file id, file and line, what it says, the hash of its numbers and sources,
    the numbers as written, the marks they carry, and how a row of data says that it was seen."""

    of: str
    file: str
    line: int
    says: str
    hash: str
    numbers: tuple[str, ...]
    marks: tuple[Mark, ...]
    checked: str = ""


def units(handbook: Handbook) -> list[Unit]:
    """Return everything that needs a second read, in the order of files and lines."""
    found = [unit for page in handbook.pages.values() for unit in _page(page)]
    for group, rows in (("values", handbook.values), ("tables", handbook.tables), ("red_flags", handbook.red_flags)):
        for name, row in rows.items():
            place = handbook.rows[(group, name)]
            of = place.file.removeprefix("content/").removesuffix(".toml")
            says = str(row.get("quantity") or row.get("title") or row.get("what") or name)
            found.extend(_row(of, f"{group}/{name}", place.file, place.line(), says, row))
    for name, row in handbook.captions.items():
        place = handbook.rows[("captions", name)]
        found.extend(_sentence("figures", f"captions/{name}", place.file, place.line("text"), str(row.get("text", ""))))
    for sheet in handbook.sheets.values():
        found.extend(_sheet(sheet))
    for model in handbook.models.values():
        found.extend(_model(model))
    return found


def missing(handbook: Handbook) -> list[Unit]:
    """Return the units that no entry of the ledger covers."""
    read = {entry.get("hash") for entry in handbook.reads}
    return [unit for unit in units(handbook) if unit.hash not in read]


def stale(handbook: Handbook) -> list[tuple[int, dict[str, Any]]]:
    """Return the entries of the ledger, with their index, whose figure has changed or gone."""
    present = {unit.hash for unit in units(handbook)}
    return [(index, entry) for index, entry in enumerate(handbook.reads) if entry.get("hash") not in present]


def sign(handbook: Handbook, of: str, date: str, line: int | None = None) -> int:
    """Sign the unread units of a page or file (or of one line of it), drop its stale entries, write the ledger.

    Returns how many units were signed. Raises KeyError for a page or file that has none and
    never had."""
    every = units(handbook)
    wanted = [unit for unit in every if unit.of == of and line in (None, unit.line)]
    if not wanted and not any(entry.get("of") == of for entry in handbook.reads):
        raise KeyError(of)
    present = {unit.hash for unit in every}
    # Another reader may have signed since the handbook was loaded.
    ledger = handbook.root / LEDGER
    handbook.reads = load_toml(ledger).data["reads"] if ledger.exists() else []
    read = {str(entry.get("hash")) for entry in handbook.reads}
    kept = [entry for entry in handbook.reads if entry.get("hash") in present or entry.get("of") != of]
    new = {
        unit.hash: {"hash": unit.hash, "date": date, "of": of, "says": unit.says}
        for unit in wanted
        if unit.hash not in read
    }
    handbook.reads = [*kept, *new.values()]
    write(handbook.root, handbook.reads, [unit.hash for unit in every])
    return len(new)


def write(root: Path, reads: list[dict[str, Any]], order: list[str]) -> None:
    """Write the ledger, one entry a line, in the order of the handbook so that changes show plainly."""
    places = {name: index for index, name in reversed(list(enumerate(order)))}
    ordered = sorted(
        reads, key=lambda read: (str(read["of"]), places.get(str(read["hash"]), len(order)), str(read["hash"]))
    )
    lines = [
        "  { "
        + ", ".join(f"{key} = {json.dumps(read[key], ensure_ascii=False)}" for key in ("hash", "date", "of", "says"))
        + " },"
        for read in ordered
    ]
    text = HEAD + "reads = [\n" + "".join(f"{line}\n" for line in lines) + "]\n"
    new = root / f"{LEDGER}.new"
    new.write_text(text, encoding="utf-8", newline="\n")
    new.replace(root / LEDGER)


def _hash(place: str, numbers: list[str], marks: Sequence[Mark]) -> str:
    keys = sorted({key for mark in marks for key in (*mark.keys, *mark.states)})
    text = json.dumps([place, numbers, keys], ensure_ascii=False)
    return hashlib.sha256(text.encode("utf-8")).hexdigest()[:16]


def _quote(text: str) -> str:
    text = re.sub(r"\s+", " ", without_marks(text)).strip(" -|*>")
    return text if len(text) <= QUOTE else text[: QUOTE - 1].rstrip() + "…"


def _page(page: Page) -> Iterator[Unit]:
    sentences = [(f"{page.id}/{'.'.join(map(str, path))}", page.line(*path), text) for path, text in texts(page.meta)]
    sentences += [(f"{page.id}#{line.section}", line.number, line.text) for line in page.prose if line.form == "text"]
    for place, line, text in sentences:
        yield from _sentence(page.id, place, page.file, line, text)
    for index, entry in enumerate(page.listed("points_to")):
        if isinstance(entry, dict):
            says = f"{page.title}: {entry.get('direction')} {entry.get('condition')}, {entry.get('strength')}"
            yield from _row(
                page.id,
                f"{page.id}/points_to/{entry.get('condition')}/{entry.get('target', '')}",
                page.file,
                page.line("points_to", index),
                says,
                entry,
            )
    if isinstance(page.meta.get("agreement"), dict):
        yield from _row(
            page.id,
            f"{page.id}/agreement",
            page.file,
            page.line("agreement"),
            f"{page.title}: agreement between observers",
            page.meta["agreement"],
        )


def _sentence(of: str, place: str, file: str, line: int, text: str) -> Iterator[Unit]:
    if numbers := numbers_in(text):
        marks = tuple(marks_in(text))
        yield Unit(of, file, line, _quote(text), _hash(place, numbers, marks), tuple(numbers), marks)


def _row(of: str, place: str, file: str, line: int, says: str, row: dict[str, Any]) -> Iterator[Unit]:
    numbers, marks = _contents(row)
    # A number without any source is a setting of our own: the range an input may take, a made-up example.
    if numbers and marks:
        says = _quote(f"{says}: {', '.join(numbers)}")
        checked = str(row.get("checked", ""))
        yield Unit(of, file, line, says, _hash(place, numbers, marks), tuple(numbers), tuple(marks), checked)


def _sheet(sheet: Sheet) -> Iterator[Unit]:
    """Yield one unit for each part of a sheet that holds a number and names a source."""
    of = f"calculators/{sheet.id}"
    for name, rows in sheet.data.items():
        for index, row in enumerate(rows if isinstance(rows, list) else []):
            if isinstance(row, dict):
                title = str(row.get("name") or row.get("id") or row.get("title") or row.get("place") or index + 1)
                line = line_of(sheet.lines, (name, index))
                yield from _row(of, f"{of}/{name}/{title}", sheet.file, line, f"{name}, {title}", row)


def _model(model: Model) -> Iterator[Unit]:
    """Yield one unit for each row that says in a sentence what it rests on; any number of the row ends its read."""
    of = f"models/{model.id}"
    for path, row in model.sourced():
        source = str(row["source"])
        said, marks = numbers_in(source), tuple(marks_in(source))
        if said and marks:
            place = "/".join((of, *map(str, path[:-1]), str(row.get("id", path[-1]))))
            numbers = [*_contents(row)[0], *said]
            line = line_of(model.lines, (*path, "source"))
            yield Unit(of, model.file, line, _quote(source), _hash(place, numbers, marks), tuple(said), marks)


def _contents(node: Any, key: str = "") -> tuple[list[str], list[Mark]]:
    """Return the numbers in a row, in order, and its marks, those of its source keys among them."""
    if key in SETTINGS or isinstance(node, bool) or node is None:
        return [], []
    if isinstance(node, (int, float)):
        return [node.text if isinstance(node, Written) else str(node)], []
    if isinstance(node, str):
        return numbers_in(node), list(marks_in(node))
    numbers: list[str] = []
    marks: list[Mark] = []
    if isinstance(node, dict):
        if "source" in node or node.get("checked") in WITHOUT_SOURCE:
            marks += marks_in(mark_of(node))
        children = list(node.items())
    else:
        children = [(key, value) for value in node]
    for name, value in children:
        more_numbers, more_marks = _contents(value, name)
        numbers += more_numbers
        marks += more_marks
    return numbers, marks
