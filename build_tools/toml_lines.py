"""Where each key of a TOML text stands.

The standard library reads TOML but forgets the lines. This scan walks the same text, trusts that
`tomllib` has accepted it, and notes the line of every key and every element of an array.
"""

from __future__ import annotations

from typing import Any

Path = tuple[Any, ...]
SPACE = " \t\r\n"


class _Scan:
    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.line = 1
        self.lines: dict[Path, int] = {(): 1}
        self.counts: dict[Path, int] = {}

    def peek(self, ahead: int = 0) -> str:
        index = self.at + ahead
        return self.text[index] if index < len(self.text) else ""

    def step(self, count: int = 1) -> None:
        self.line += self.text.count("\n", self.at, self.at + count)
        self.at += count

    def skip(self, characters: str = SPACE) -> None:
        """Pass over the given characters, and over comments where line ends may be passed."""
        while (here := self.peek()) and (here in characters or (here == "#" and "\n" in characters)):
            if here == "#":
                end = self.text.find("\n", self.at)
                self.step((len(self.text) if end < 0 else end) - self.at)
            else:
                self.step()

    def next(self) -> str:
        """Return the next character that means something, without passing it."""
        self.skip()
        return self.peek()

    def string(self) -> str:
        quote = self.peek()
        if self.text.startswith(quote * 3, self.at):
            start = self.at + 3
            end = start
            while not self.text.startswith(quote * 3, end):
                end += 2 if quote == '"' and self.text[end] == "\\" else 1
            while self.text.startswith(quote, end + 3):
                end += 1
            after = end + 3
        else:
            start = self.at + 1
            end = start
            while self.text[end] != quote:
                end += 2 if quote == '"' and self.text[end] == "\\" else 1
            after = end + 1
        found = self.text[start:end]
        self.step(after - self.at)
        return found

    def key(self, stop: str) -> Path:
        """Read a bare, quoted or dotted key up to the stop character, which is passed too."""
        parts: list[str] = []
        while True:
            self.skip(" \t")
            if self.peek() in "\"'":
                parts.append(self.string())
            else:
                start = self.at
                while self.peek() not in " \t.=]":
                    self.step()
                parts.append(self.text[start : self.at])
            self.skip(" \t")
            last = self.peek() == stop
            self.step()
            if last:
                return tuple(parts)

    def note(self, path: Path, line: int) -> None:
        for length in range(1, len(path) + 1):
            self.lines.setdefault(path[:length], line)

    def value(self, path: Path) -> None:
        here = self.peek()
        if here in "\"'":
            self.string()
        elif here == "[":
            self.step()
            index = 0
            while self.next() != "]":
                if self.peek() == ",":
                    self.step()
                    continue
                self.note((*path, index), self.line)
                self.value((*path, index))
                index += 1
            self.step()
        elif here == "{":
            self.step()
            while self.next() != "}":
                if self.peek() == ",":
                    self.step()
                    continue
                self.pair(path)
            self.step()
        else:
            while self.peek() and self.peek() not in ",]}#\n":
                self.step()

    def pair(self, table: Path) -> None:
        line = self.line
        path = (*table, *self.key("="))
        self.note(path, line)
        self.skip(" \t")
        self.value(path)

    def resolve(self, header: Path) -> Path:
        """Turn the words of a header into a path, with the index of the last element of each array."""
        path: Path = ()
        for word in header:
            path = (*path, word)
            if path in self.counts:
                path = (*path, self.counts[path] - 1)
        return path

    def run(self) -> dict[Path, int]:
        table: Path = ()
        while self.next():
            line = self.line
            if self.text.startswith("[[", self.at):
                self.step(2)
                header = self.key("]")
                self.step()
                array = (*self.resolve(header[:-1]), header[-1])
                self.counts[array] = self.counts.get(array, 0) + 1
                table = (*array, self.counts[array] - 1)
                self.note(table, line)
            elif self.peek() == "[":
                self.step()
                table = self.resolve(self.key("]"))
                self.note(table, line)
            else:
                self.pair(table)
        return self.lines


def toml_lines(text: str) -> dict[Path, int]:
    """Return the 1-based line of every key and array element of a TOML text that `tomllib` accepts.

    Paths are tuples of keys and indices: ("inputs", 0, "id"). The empty tuple is the first line.
    """
    return _Scan(text.replace("\r\n", "\n")).run()
