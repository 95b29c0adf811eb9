"""Every number of a formula and every limit of a sheet, moved by one unit of its last place."""

from __future__ import annotations

import ast
import copy
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from types import ModuleType
from typing import Any

from build_tools.environment import ROOT
from build_tools.handbook import Sheet

# The keys of a sheet that hold numbers a result depends on. `ruler` is drawn, and `possible` and the rest banded.
NUMBERS = {
    "possible", "usual", "from", "above", "below", "relative", "value", "places", "is",
    "points", "gives", "any", "least",
}


@dataclass(frozen=True)
class Mutant:
    """One moved number: where it stands, and the formula or the sheet with it moved."""

    name: str
    formulas: ModuleType | None
    data: dict[str, Any] | None


def moved(text: str) -> Iterator[str]:
    """The number one unit of its last place up and down: "0.40" gives "0.41" and "0.39"."""
    number = Decimal(text)
    step = Decimal(1).scaleb(int(number.as_tuple().exponent))
    yield str(number + step)
    yield str(number - step)


def formula_mutants(calculator: str) -> Iterator[Mutant]:
    """The formula with each of its numbers moved."""
    file = f"calculators/{calculator}/formula.py"
    source = (ROOT / file).read_text("utf-8")
    tree = ast.parse(source)
    scopes = [scope for scope in tree.body if isinstance(scope, ast.FunctionDef)]
    functions = {node: scope.name for scope in scopes for node in ast.walk(scope)}
    lines = source.splitlines(keepends=True)
    seen: dict[str, int] = {}
    for node in ast.walk(tree):
        if not isinstance(node, ast.Constant) or type(node.value) not in (int, float):
            continue
        text = ast.get_source_segment(source, node) or ""
        where = f"{file} {functions.get(node, 'constants')} {text}"
        seen[where] = seen.get(where, 0) + 1
        for other in moved(text):
            changed = list(lines)
            line = changed[node.lineno - 1].encode()
            after = line[: node.col_offset] + other.encode() + line[node.end_col_offset :]
            changed[node.lineno - 1] = after.decode()
            module = ModuleType(calculator)
            exec(compile("".join(changed), file, "exec"), module.__dict__)
            yield Mutant(f"{where} ({seen[where]}) to {other}", module, None)


def sheet_mutants(sheet: Sheet) -> Iterator[Mutant]:
    """The sheet with each of its limits, edges, stand-ins, errors and decimals moved."""
    for path, number in numbers_in({key: sheet.data[key] for key in sheet.data if key != "checks"}):
        for other in moved(getattr(number, "text", None) or str(number)):
            data = copy.deepcopy(sheet.data)
            holder: Any = data
            for step in path[:-1]:
                holder = holder[step]
            holder[path[-1]] = type(number)(other)
            yield Mutant(f"{sheet.file} {spoken(sheet.data, path)} to {other}", None, data)


def numbers_in(value: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[tuple[Any, ...], Any]]:
    """(path, number) of every number under one of the keys above."""
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from numbers_in(inner, (*path, key))
    elif isinstance(value, list):
        for index, inner in enumerate(value):
            yield from numbers_in(inner, (*path, index))
    elif isinstance(value, (int, float)) and not isinstance(value, bool) and NUMBERS & set(path):
        yield path, value


def spoken(data: Any, path: tuple[Any, ...]) -> str:
    """A path with ids in place of indices, so that it stands when entries move."""
    words = []
    for step in path:
        data = data[step]
        words.append(str(data["id"]) if isinstance(data, dict) and "id" in data else str(step))
    return ".".join(words)
