"""The portable core keeps to the Python that CPython, Pyodide and MicroPython run alike.

Each rule below stands for something that was seen to differ between the engines. A test that the code is
equal in all three is in test_parity.py; this one names the line before anything runs.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

from build_tools.environment import ROOT

CORE = ROOT / "calculators"
SOURCES = sorted(CORE.rglob("*.py"))

# `str` is safe for an integer alone; these are the places that hand it one.
STR_OF_INTEGER = {("calculators/numbers.py", "fixed"), ("calculators/form.py", "fields")}

BANNED_CALLS = {
    "float": "engines read different texts as numbers: use numbers.parse",
    "round": "halves go to even in one engine: use numbers.rounded or numbers.fixed",
    "sum": "floats are added differently: add in a loop",
    "repr": "floats print differently: use numbers.fixed or numbers.plain",
    "format": "floats print differently: use numbers.fixed",
    "print": "the core answers, it does not print",
    "open": "the core reads no files",
    "eval": "the core runs no text",
    "exec": "the core runs no text",
    "super": "no classes are needed here",
}
BANNED_METHODS = {
    "format", "ljust", "rjust", "zfill", "title", "capitalize", "casefold", "removeprefix", "removesuffix",
    "items", "keys", "values", "sort", "expandtabs", "isdigit", "isnumeric", "isdecimal", "isalpha",
}
ALLOWED_MATH = {"floor", "ceil", "sqrt", "exp", "log", "log10", "sin", "cos", "tan", "atan", "pi"}
BANNED_NODES = {
    ast.JoinedStr: "f-strings print floats differently: join texts with +",
    ast.ClassDef: "plain functions and dicts travel everywhere",
    ast.Match: "MicroPython has no match",
    ast.AnnAssign: "annotations need names that MicroPython has not",
    ast.Set: "a set has no order",
    ast.SetComp: "a set has no order",
    ast.DictComp: "a dict has no order in MicroPython: use a list",
    ast.AsyncFunctionDef: "nothing here waits",
    ast.Global: "state belongs to the door alone",
    ast.Nonlocal: "state belongs to the door alone",
    ast.Starred: "stars in displays and returns differ: build the list step by step",
}


def broken_rules(source: str, file: str) -> Iterator[tuple[int, str]]:
    """Yield (line, reason) for everything in a source that the engines would not run alike."""
    tree = ast.parse(source, feature_version=(3, 11))
    where: dict[ast.AST, str] = {}
    for function in ast.walk(tree):
        if isinstance(function, ast.FunctionDef):
            for inner in ast.walk(function):
                where[inner] = function.name
    for node in ast.walk(tree):
        for message in _broken_by(node, file, where.get(node, "")):
            yield getattr(node, "lineno", 0), message


def _broken_by(node: ast.AST, file: str, function: str) -> Iterator[str]:
    if type(node) in BANNED_NODES:
        yield BANNED_NODES[type(node)]
    if isinstance(node, ast.Import):
        allowed = {"math", "json"} if file == "calculators/door.py" else {"math"}
        yield from (f"imports {name.name}" for name in node.names if name.name not in allowed)
    if isinstance(node, ast.ImportFrom) and (node.module or "").split(".")[0] != "calculators":
        yield f"imports from {node.module}"
    if isinstance(node, ast.Call):
        yield from _broken_call(node, file, function)
    if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Mod) and isinstance(node.left, ast.Constant):
        yield "% prints floats differently"
    if isinstance(node, ast.Dict) and None in node.keys:
        yield "MicroPython has no ** inside a display"
    if isinstance(node, ast.Slice) and node.step is not None:
        yield "slice steps differ"
    if isinstance(node, ast.Raise) and node.cause is not None:
        yield "MicroPython does not chain exceptions"
    if isinstance(node, ast.ExceptHandler) and node.name is not None:
        yield "the text of an exception differs from engine to engine"
    if isinstance(node, ast.FunctionDef):
        arguments = node.args
        if arguments.posonlyargs or arguments.vararg or arguments.kwarg or node.returns:
            yield "plain parameters only"
        if any(argument.annotation for argument in arguments.args + arguments.kwonlyargs):
            yield "annotations need names that MicroPython has not"
        if node.decorator_list:
            yield "no decorators"
    if isinstance(node, ast.Attribute) and ast.unparse(node.value) == "math" and node.attr not in ALLOWED_MATH:
        yield f"math.{node.attr} is not in every engine"


def _broken_call(node: ast.Call, file: str, function: str) -> Iterator[str]:
    called = node.func
    if isinstance(called, ast.Name):
        if called.id in BANNED_CALLS:
            yield BANNED_CALLS[called.id]
        if called.id == "str" and (file, function) not in STR_OF_INTEGER:
            yield "str of a float differs: use numbers.fixed, or list the place if it is an integer"
        if called.id == function:
            yield "recursion is shallow in MicroPython"
        if called.id == "sorted" and node.keywords:
            yield "sorted is not stable in MicroPython"
        if called.id == "isinstance" and ast.unparse(node.args[1]) not in {"str", "dict", "list"}:
            yield "isinstance of numbers counts booleans: ask for str, dict or list"
    if isinstance(called, ast.Attribute):
        if called.attr in BANNED_METHODS:
            yield f"the method {called.attr} is missing or differs"
        if called.attr == "split" and node.keywords:
            yield "split takes no keywords in MicroPython"


@pytest.mark.parametrize("path", SOURCES, ids=lambda path: path.relative_to(CORE).as_posix())
def test_core_is_portable(path: Path) -> None:
    """No line of the core uses what an engine lacks or does otherwise."""
    file = path.relative_to(ROOT).as_posix()
    broken = [f"{file}:{line}: {why}" for line, why in broken_rules(path.read_text("utf-8"), file)]
    assert broken == []


@pytest.mark.parametrize("source", [
    "import os", "import json", "from build_tools import cli", "import math\nmath.cbrt(8)", "x = float('1')",
    "x = round(0.5)", "x = sum([0.1])", "x = f'{1.5}'", "x = '%s' % 1.5", "x = '{}'.format(1.5)", "x = str(1.5)",
    "x = {**{}}", "x = [*[]]", "x = 'abc'[::-1]", "x = {1, 2}", "x = {a: 1 for a in []}", "class A: pass",
    "def f(x: int): return x", "def f(x, /): return x", "def f(*x): return x", "def f(**x): return x",
    "def f(x): return f(x)", "try:\n    pass\nexcept ValueError as e:\n    pass", "x = {}.items()", "x: int = 1",
    "sorted([], key=len)", "isinstance(1, int)", "'a b'.split(sep=' ')", "match 1:\n    case 1: pass",
    "raise ValueError('a') from None", "@f\ndef g(): pass", "x = 'a'.zfill(3)",
])
def test_each_rule_catches(source: str) -> None:
    """Every rule finds the line it was made for."""
    assert list(broken_rules(source, "calculators/some.py"))
