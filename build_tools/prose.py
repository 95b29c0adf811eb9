"""The lines of a page's body, each with what it is: one place that knows Markdown's block forms."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from markdown.extensions.toc import slugify, unique

HEADING = re.compile(r"(#{1,6})\s+(.+?)\s*#*\s*$")
FENCE = re.compile(r"(\s*)(`{3,}|~{3,})\s*([\w-]*)\s*(.*)$")
ADMONITION = re.compile(r"(\s*)(?:!!!|\?\?\?\+?)\s+([\w-]+)(?:\s+\"(.*)\")?\s*$")
LINK = re.compile(r"(!?)\[([^\[\]]*)\]\(\s*<?([^)\s>]+)>?(?:\s+\"[^\"]*\")?\s*\)")
CODE = re.compile(r"(`+)(?!`).+?(?<!`)\1(?!`)")

# Keys whose texts are names or ids, not sentences.
NAMES = {
    "kind",
    "title",
    "aliases",
    "level",
    "region",
    "steps",
    "findings",
    "measures",
    "values",
    "red_flags",
    "red_flag",
    "calculators",
    "template",
    "hide",
}
# Groups whose own keys name the source of every number in them.
SOURCED = {"points_to", "agreement"}


@dataclass(frozen=True)
class Line:
    """One line: its number in the file, text, form (blank, heading, text, title, fence or code), the id of the
    heading above it, the grade of the admonition around it, and the word after the fence that holds it."""

    number: int
    text: str
    form: str
    section: str = ""
    admonition: str = ""
    fence: str = ""


@dataclass(frozen=True)
class Heading:
    """A heading: level 1 to 6, words, the id that links use, line in the file."""

    level: int
    words: str
    id: str
    line: int


def read_lines(body: str, first_line: int) -> list[Line]:
    """Return the lines of a body, the first of which has the given number."""
    lines: list[Line] = []
    ids: set[str] = set()
    section = ""
    closing = ""
    fence = ""
    admonition = ""
    inset = 0
    for number, text in enumerate(body.splitlines(), first_line):
        indent = len(text) - len(text.lstrip())
        if closing:
            if text.strip().startswith(closing) and not text.strip().strip(closing[0]):
                closing = ""
                lines.append(Line(number, text, "fence", section, admonition, fence))
            else:
                lines.append(Line(number, text, "code", section, admonition, fence))
            continue
        if not text.strip():
            lines.append(Line(number, text, "blank", section, admonition))
            continue
        if admonition and indent < inset:
            admonition = ""
        if found := FENCE.match(text):
            closing, fence = found.group(2), found.group(3)
            lines.append(Line(number, text, "fence", section, admonition, fence))
        elif found := ADMONITION.match(text):
            admonition, inset = found.group(2), indent + 4
            lines.append(Line(number, text, "title", section, admonition))
        elif found := HEADING.match(text):
            admonition = ""
            section = _heading_id(found.group(2), ids)
            lines.append(Line(number, text, "heading", section))
        else:
            lines.append(Line(number, text, "text", section, admonition))
    return lines


def _heading_id(words: str, used: set[str]) -> str:
    plain = LINK.sub(r"\2", words).replace("`", "").replace("*", "")
    return str(unique(slugify(plain, "-"), used))


def headings(lines: list[Line]) -> list[Heading]:
    """Return the headings among lines."""
    found: list[Heading] = []
    for line in lines:
        if line.form == "heading" and (match := HEADING.match(line.text)):
            found.append(Heading(len(match.group(1)), match.group(2), line.section, line.number))
    return found


def embeds(lines: list[Line]) -> list[tuple[int, str, str]]:
    """Return line, kind and argument of every fenced block that names one: (12, "calculator", "pulse_pressure").

    The argument is the first line of the block, or the rest of the opening line."""
    found: list[tuple[int, str, str]] = []
    for index, line in enumerate(lines):
        opens = line.form == "fence" and line.fence and (index == 0 or lines[index - 1].form != "code")
        if opens and (match := FENCE.match(line.text)) and match.group(3):
            rest = match.group(4).strip()
            inside = lines[index + 1].text.strip() if index + 1 < len(lines) and lines[index + 1].form == "code" else ""
            found.append((line.number, line.fence, rest or inside))
    return found


def texts(meta: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[tuple[Any, ...], str]]:
    """Yield path and text of every sentence in front matter whose numbers need a mark of their own."""
    if isinstance(meta, str):
        yield path, meta
    elif isinstance(meta, dict):
        for key, value in meta.items():
            if not (path == () and (key in NAMES or key in SOURCED)):
                yield from texts(value, (*path, key))
    elif isinstance(meta, list):
        for index, value in enumerate(meta):
            yield from texts(value, (*path, index))
