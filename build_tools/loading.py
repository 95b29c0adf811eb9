"""Reading TOML files and YAML front matter, with the line of every key kept for the error messages."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import yaml

from build_tools.toml_lines import toml_lines

# The status of a page or sheet that only those who write see.
DRAFT = "draft"


class Unreadable(Exception):
    """A file that cannot be parsed: the line, what was found and how to mend it."""

    def __init__(self, line: int, message: str, mend: str) -> None:
        super().__init__(message)
        self.line = line
        self.message = message
        self.mend = mend


class Written(float):
    """A number that remembers how it was written, so that 1.40 is shown with both its decimals."""

    text: str

    def __new__(cls, text: str) -> Written:
        number = super().__new__(cls, text)
        number.text = text
        return number


@dataclass
class Located:
    """Parsed data and the 1-based line of each path in it: `lines[("inputs", 0, "id")]`, `lines[()]`."""

    data: dict[str, Any]
    lines: dict[tuple[Any, ...], int] = field(default_factory=dict)


def line_of(lines: dict[tuple[Any, ...], int], path: tuple[Any, ...] = ()) -> int:
    """Return the line of a path, or of the nearest thing around it that has one."""
    while path and path not in lines:
        path = path[:-1]
    return lines.get(path, 1)


def read_text(path: Path) -> str:
    """Return the text of a UTF-8 file with plain line ends. Raises Unreadable for another encoding."""
    try:
        text = path.read_bytes().decode("utf-8")
    except UnicodeDecodeError as error:
        raise Unreadable(0, f"the file is not UTF-8 text (byte {error.start})", "save it as UTF-8") from None
    if text.startswith("\ufeff"):
        raise Unreadable(1, "the file starts with a byte-order mark", "save it as UTF-8 without one")
    return text.replace("\r\n", "\n")


def load_toml(path: Path) -> Located:
    """Read a TOML file. Raises Unreadable with the line of the fault."""
    text = read_text(path)
    try:
        data = tomllib.loads(text, parse_float=Written)
    except tomllib.TOMLDecodeError as error:
        message = str(error)
        line = int(found.group(1)) if (found := re.search(r"at line (\d+)", message)) else text.count("\n") + 1
        cause = message.split(" (at")[0]
        raise Unreadable(
            line,
            f"this is not TOML: {cause[:1].lower()}{cause[1:]}",
            "look for a missing quote, comma or bracket, or a key written twice",
        ) from None
    return Located(data, toml_lines(text))


# Ten times as quick where PyYAML comes with the C library, as its wheels do.
_SAFE: type[yaml.SafeLoader] = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


class _Loader(_SAFE):  # type: ignore[misc, valid-type]
    """The safe loader, except that fractions keep their digits and dates and times stay text."""


_Loader.yaml_implicit_resolvers = {
    first: [(tag, pattern) for tag, pattern in pairs if tag != "tag:yaml.org,2002:timestamp"]
    for first, pairs in yaml.SafeLoader.yaml_implicit_resolvers.items()
}


def _fraction(loader: yaml.SafeLoader, node: yaml.ScalarNode) -> float:
    text = str(loader.construct_scalar(node))
    return Written(text) if re.fullmatch(r"[-+]?\d+\.\d+", text) else loader.construct_yaml_float(node)


_Loader.add_constructor("tag:yaml.org,2002:float", _fraction)


def _note_lines(node: yaml.Node, path: tuple[Any, ...], first: int, lines: dict[tuple[Any, ...], int]) -> None:
    lines.setdefault(path, node.start_mark.line + first)
    if isinstance(node, yaml.MappingNode):
        for key, value in node.value:
            line = key.start_mark.line + first
            if (*path, key.value) in lines:
                raise Unreadable(line, f'the key "{key.value}" is written twice', "keep one of the two")
            lines[(*path, key.value)] = line
            _note_lines(value, (*path, key.value), first, lines)
    elif isinstance(node, yaml.SequenceNode):
        for index, value in enumerate(node.value):
            _note_lines(value, (*path, index), first, lines)


def load_yaml(text: str, first_line: int = 1) -> Located:
    """Read a YAML mapping whose first line is the given line of its file. Raises Unreadable."""
    loader = _Loader(text)
    try:
        node = loader.get_single_node()
        data = None if node is None else loader.construct_document(node)
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        line = first_line + (mark.line if mark else 0)
        raise Unreadable(
            line,
            f"this is not YAML: {error.problem or error.context}",
            'put a text that holds ": ", " #", [ or { in double quotes, and align lists',
        ) from None
    if not isinstance(node, yaml.MappingNode) or not isinstance(data, dict):
        raise Unreadable(first_line, "keys were expected here", "write one `key: value` a line")
    lines: dict[tuple[Any, ...], int] = {(): first_line}
    _note_lines(node, (), first_line, lines)
    return Located(data, lines)


def load_front_matter(path: Path) -> tuple[Located, str, int]:
    """Read a page: its front matter, its body, and the line on which the body starts. Raises Unreadable."""
    text = read_text(path)
    if not (start := re.match(r"---[ \t]*\n", text)):
        raise Unreadable(
            1,
            "the page has no front matter",
            "start the file with a line `---`, the keys of its kind, and a line `---`",
        )
    end = re.compile(r"^---[ \t]*$\n?", re.MULTILINE).search(text, start.end())
    if not end:
        raise Unreadable(1, "the front matter has no end", "close it with a line `---`")
    located = load_yaml(text[start.end() : end.start()], 2)
    return located, text[end.end() :], text.count("\n", 0, end.end()) + 1
