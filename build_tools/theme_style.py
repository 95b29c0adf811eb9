"""The part of the theme's style sheet that the site uses: the rules for the few parts of its frame that are left.

The theme's own sheet is 140 kB, all of it before the first word is painted; what the handbook's pages use of it is
a few hundred bytes. Rules for bare elements are left out too: the handbook's own sheets set those.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

# The parts of the theme's frame that stand in a page: those of base.html, and what its script makes.
PARTS = frozenset({
    "md-toggle", "md-overlay", "md-skip", "md-container", "md-main", "md-main__inner", "md-grid", "md-dialog",
    "md-dialog__inner", "md-dialog--active", "md-nav__link", "md-nav__link--active", "md-nav__link--passed",
})

_CLASS = re.compile(r"\.(-?[_a-zA-Z][\w-]*)")
_STATE = re.compile(r"\[data-md-toggle|\[data-md-scrolllock|:host|dir=rtl")


def used(sheet: str) -> str:
    """Give the rules of a style sheet whose selectors name parts of the theme's frame, and only such parts."""
    return "".join(_kept(sheet))


def _kept(sheet: str) -> Iterator[str]:
    for prelude, inside in _blocks(sheet):
        if prelude.startswith("@media"):
            if rules := used(inside):
                yield f"{prelude}{{{rules}}}\n"
        elif not prelude.startswith("@") and (selectors := [one for one in _selectors(prelude) if _is_used(one)]):
            yield f"{','.join(selectors)}{{{inside}}}\n"


def _is_used(selector: str) -> bool:
    classes = set(_CLASS.findall(selector))
    return bool(classes) and classes <= PARTS and not _STATE.search(selector)


def _selectors(prelude: str) -> list[str]:
    """Split a selector list at the commas outside of brackets."""
    return [part.strip() for part in re.split(r",(?![^(\[]*[)\]])", prelude)]


def _blocks(sheet: str) -> Iterator[tuple[str, str]]:
    """Yield what stands before and inside each pair of braces of the outermost level."""
    depth = 0
    start = opened = 0
    for sign in re.finditer(r"\"(?:[^\"\\]|\\.)*\"|'(?:[^'\\]|\\.)*'|url\([^)]*\)|[{};]", sheet):
        if sign.group() == "{":
            if depth == 0:
                opened = sign.end()
            depth += 1
        elif sign.group() == "}":
            depth -= 1
            if depth == 0:
                yield sheet[start : opened - 1].strip(), sheet[opened : sign.start()]
                start = sign.end()
        elif sign.group() == ";" and depth == 0:
            start = sign.end()
