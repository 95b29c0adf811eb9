"""Marks set for the reader: references numbered in the order a page names them, with its own list of sources."""

from __future__ import annotations

import re
from html import escape, unescape
from typing import TYPE_CHECKING

from build_tools.citations import COMMON_PRACTICE, FROM_MEMORY, LOCAL_SIGN_OFF, MARK, Mark, Use, read_mark

if TYPE_CHECKING:
    from build_tools.references import References

# Each state: the class of its label, the words on it, and what they mean, told once under Sources.
LABELS = {
    COMMON_PRACTICE: ("practice", "common practice", "a habit of the trade; no source was found or looked for."),
    FROM_MEMORY: ("memory", "from memory", "nobody has looked it up; do so before you rely on it."),
    LOCAL_SIGN_OFF: (
        "sign-off",
        "for local sign-off",
        "rests on no source that was seen; whoever publishes the handbook decides on it.",
    ),
}
# Marks inside these are part of an example or of data, not of the text.
_PIECE = re.compile(r"<(script|code|pre|textarea)\b.*?</\1>|<[^>]*>|" + MARK.pattern, re.DOTALL)


class Numbering:
    """The references of one page, numbered as they appear."""

    def __init__(self, references: References) -> None:
        self.references = references
        self.numbers: dict[str, int] = {}
        self.places: dict[str, list[str]] = {}
        self.states: list[str] = []

    def apply(self, html: str) -> str:
        """Return HTML with every mark in its text replaced by numbers and labels."""
        return _PIECE.sub(
            lambda found: found.group() if found.group(2) is None else self._set(read_mark(unescape(found.group(2)))),
            html,
        )

    def _set(self, mark: Mark) -> str:
        labels = [self._label(state) for state in mark.states]
        uses = "; ".join(self._use(use) for use in mark.uses)
        return " ".join([*labels, *([f'<span class="cite">[{uses}]</span>'] if uses else [])])

    def _label(self, state: str) -> str:
        if state not in self.states:
            self.states.append(state)
        name, words, _ = LABELS[state]
        return f'<span class="mark mark-{name}">{words}</span>'

    def _use(self, use: Use) -> str:
        text = self._number(use.key) + self._place(use.key, use.place)
        if use.quoted_in:
            text += f", quoted in {self._number(use.quoted_in)}" + self._place(use.quoted_in, use.quoted_place)
        return text

    def _place(self, key: str, place: str | None) -> str:
        """Return where in a work a figure stands. A narrow screen leaves it to the list of sources."""
        if not place:
            return ""
        known = self.places.setdefault(key, [])
        if place not in known:
            known.append(place)
        return f'<span class="cite-place">, {escape(place, quote=False)}</span>'

    def _number(self, key: str) -> str:
        number = self.numbers.setdefault(key, len(self.numbers) + 1)
        return f'<a href="#source-{number}">{number}</a>'

    def _note(self, note: str) -> str:
        """Return the note of a reference with the keys of others in words."""
        return re.sub(r"[A-Za-z][\w-]*", lambda found: self._named(found.group()), note)

    def _named(self, key: str) -> str:
        if key in self.numbers:
            return f"reference {self.numbers[key]}"
        return self.references.entries[key].name if key in self.references else key

    def sources(self) -> str:
        """Return the list of what `apply` has met: references in order, then what the labels mean."""
        lines = self.references.formatted(self.numbers)
        items = []
        for key, number in self.numbers.items():
            note = self._note(self.references.entries[key].note) if key in self.references else ""
            told = f' <span class="reference-note">({escape(note, quote=False)})</span>' if note else ""
            drawn_on = "; ".join(escape(place, quote=False) for place in self.places.get(key, []))
            places = f' <span class="reference-places">Drawn on here: {drawn_on}.</span>' if drawn_on else ""
            items.append(f'<li id="source-{number}">{lines.get(key, escape(key))}{told}{places}</li>')
        works = "1 work" if len(items) == 1 else f"{len(items)} works"
        # Folded: on a phone the list is often longer than the page. A link to a source opens it.
        folded = f'<details class="sources"><summary>{works}</summary>\n<ol class="references">\n'
        parts = [folded + "\n".join(items) + "\n</ol></details>" if items else ""]
        if self.states:
            rows = "".join(
                f'<div><dt><span class="mark mark-{LABELS[state][0]}">{LABELS[state][1]}</span></dt>'
                f"<dd>{LABELS[state][2]}</dd></div>"
                for state in LABELS
                if state in self.states
            )
            parts.append(f'<dl class="mark-meanings">{rows}</dl>')
        return "\n".join(part for part in parts if part)
