"""Links: each leads to a page, heading or file that exists, and none leaves the site."""

from __future__ import annotations

import difflib
import posixpath
import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

from build_tools.problems import Problem
from build_tools.prose import CODE, LINK

if TYPE_CHECKING:
    from build_tools.handbook import Handbook, Page

OUTSIDE = re.compile(r"\b(?:https?|ftp|file|mailto|data|javascript):|(?<![:\w/])//|\bwww\.", re.IGNORECASE)
RAW = re.compile(
    r"<(script|style|iframe|object|embed|link|form|input|img|video|audio|svg)\b|\s(style|on[a-z]+)\s*=", re.IGNORECASE
)
# What a build adds to the site beside the pages.
GENERATED = ("notices.txt",)
TAG = re.compile(r"<[a-zA-Z/][^<>]*>")


def check(handbook: Handbook) -> Iterator[Problem]:
    """Yield broken links and anchors, addresses outside the site, and raw HTML that the site's rules forbid."""
    for page in handbook.pages.values():
        for line in page.prose:
            if line.form not in ("text", "title"):
                continue
            text = CODE.sub(" ", line.text)
            if OUTSIDE.search(text):
                yield Problem(
                    page.file,
                    line.number,
                    "the line holds an address outside the handbook",
                    "cite it with [@key], or bring the file into content/: a page asks no other server",
                )
                continue
            for tag in TAG.finditer(text):
                if RAW.search(tag.group()):
                    yield Problem(
                        page.file,
                        line.number,
                        f"raw HTML is not allowed here: {tag.group()}",
                        "use Markdown or a fenced block; scripts and styles live in build_tools/web/",
                    )
            for found in LINK.finditer(text):
                yield from _target(handbook, page, line.number, found.group(3))


def _target(handbook: Handbook, page: Page, line: int, target: str) -> Iterator[Problem]:
    address, _, anchor = target.partition("#")
    if address.startswith("/"):
        yield Problem(
            page.file,
            line,
            f'the link "{target}" starts at the root of the server',
            "write it from this page: ../findings/name.md",
        )
        return
    place = posixpath.normpath(posixpath.join(posixpath.dirname(page.id), address)) if address else f"{page.id}.md"
    if place.endswith(".md"):
        other = handbook.pages.get(place.removesuffix(".md"))
        if other is None:
            close = difflib.get_close_matches(place.removesuffix(".md"), handbook.pages, 1)
            mend = posixpath.relpath(f"{close[0]}.md", posixpath.dirname(page.id) or ".") if close else ""
            yield Problem(
                page.file,
                line,
                f'the link "{target}" leads to no page',
                f"did you mean {mend}?" if mend else "correct the name, or write the page",
            )
        elif anchor and anchor not in other.anchors:
            close = difflib.get_close_matches(anchor, other.anchors, 1)
            yield Problem(
                page.file,
                line,
                f'{other.file} has no heading "#{anchor}"',
                f"did you mean #{close[0]}?" if close else f"use one of {', '.join(sorted(other.anchors))}",
            )
    elif place not in GENERATED and not (handbook.root / "content" / place).is_file():
        yield Problem(
            page.file, line, f'the file "{target}" is not there', "add it under content/, or correct the name"
        )
