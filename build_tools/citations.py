"""The marks that say what a figure rests on: their grammar, and what a row of data amounts to.

A mark is written in square brackets, its parts parted by semicolons:
`[@key]`, `[@key, Table 2]`, `[@a; @b]`, `[@seen; quoted in @other]`, `[common practice]`,
`[from memory]`, `[from memory; @key]`, `[local sign-off]`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

COMMON_PRACTICE = "common practice"
FROM_MEMORY = "from memory"
LOCAL_SIGN_OFF = "local sign-off"
STATES = (COMMON_PRACTICE, FROM_MEMORY, LOCAL_SIGN_OFF)

# What a row of data writes where a key would stand.
WITHOUT_SOURCE = {"common-practice": COMMON_PRACTICE, "memory": FROM_MEMORY, "local-sign-off": LOCAL_SIGN_OFF}

_START = rf"@|{COMMON_PRACTICE}\b|{FROM_MEMORY}\b|{LOCAL_SIGN_OFF}(?![\w-])"
MARK = re.compile(rf"\[(?=(?:{_START}))([^\[\]]*)\](?!\()")
VALUE = re.compile(r"\{\{\s*value\s+([^\s{}]+)\s*\}\}")
# Any brackets, since a line in a list or a result of the search has no room for a note of its author's either.
_MARK_OR_VALUE = re.compile(r"\s*\[[^\]]*\]|\{\{[^}]*\}\}")
_PART = re.compile(r"(quoted in )?@([A-Za-z][A-Za-z0-9_:-]*)(?:\s*,\s*(.+))?$", re.DOTALL)


@dataclass(frozen=True)
class Use:
    """One reference in a mark: its key, the place in it, and the key and place it was quoted in."""

    key: str
    place: str = ""
    quoted_in: str = ""
    quoted_place: str = ""

    @property
    def keys(self) -> tuple[str, ...]:
        return (self.key, self.quoted_in) if self.quoted_in else (self.key,)


@dataclass(frozen=True)
class Mark:
    """A mark read: the references it names, the states it declares, and what could not be read."""

    text: str
    uses: tuple[Use, ...]
    states: tuple[str, ...]
    fault: str = ""

    @property
    def keys(self) -> tuple[str, ...]:
        return tuple(key for use in self.uses for key in use.keys)

    @property
    def seen(self) -> bool:
        """Whether it names a source, and not one that is cited from memory."""
        return bool(self.uses) and FROM_MEMORY not in self.states


def read_mark(text: str) -> Mark:
    """Read the text between the brackets of a mark."""
    uses: list[Use] = []
    states: list[str] = []
    fault = ""
    for part in (piece.strip() for piece in text.split(";")):
        found = _PART.match(part)
        if part in STATES:
            states.append(part)
        elif not found:
            # A semicolon inside a place ("Table 2; text") continues the place.
            if uses and not uses[-1].quoted_in and uses[-1].place:
                uses[-1] = Use(uses[-1].key, f"{uses[-1].place}; {part}")
            else:
                fault = fault or f'"{part}" is neither a reference nor a state'
        elif not found.group(1):
            uses.append(Use(found.group(2), (found.group(3) or "").strip()))
        elif uses and not uses[-1].quoted_in:
            uses[-1] = Use(uses[-1].key, uses[-1].place, found.group(2), (found.group(3) or "").strip())
        else:
            fault = fault or f'"{part}" has no reference before it'
    return Mark(text, tuple(uses), tuple(states), fault)


def marks_in(text: str) -> Iterator[Mark]:
    """Yield the marks of a text in order."""
    for found in MARK.finditer(text):
        yield read_mark(found.group(1))


def without_marks(text: str) -> str:
    """Return a text without its marks, for places that cannot carry them (search, copied records)."""
    return re.sub(r"\s+([.,;:])", r"\1", MARK.sub("", text)).strip()


def without_marks_and_values(text: str) -> str:
    """Return a text without its marks and the values it quotes, for a line that leads to the page that has them."""
    return _MARK_OR_VALUE.sub("", text).strip()


def mark_of(row: Mapping[str, Any]) -> str:
    """Return the mark of a row of data, from its keys source, place, checked and quoted_in."""
    source = str(row.get("source", row.get("checked", "")))
    if source in WITHOUT_SOURCE:
        return f"[{WITHOUT_SOURCE[source]}]"
    place = str(row.get("place", ""))
    checked = row.get("checked")
    parts = [FROM_MEMORY] if checked == "memory" else [COMMON_PRACTICE] if checked == "common-practice" else []
    if row.get("quoted_in"):
        # The place of a quoted figure is where it was read, so it belongs to the quoting work.
        parts += [f"@{source}", f"quoted in @{row['quoted_in']}" + (f", {place}" if place else "")]
    else:
        parts.append(f"@{source}" + (f", {place}" if place else ""))
    return f"[{'; '.join(parts)}]".replace("[[", "[")
