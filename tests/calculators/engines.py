"""The browser's engines, run under Node.js: what they answer to the same requests."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from build_tools.environment import ROOT

PACKAGES = ROOT / "build_tools" / "engines" / "node_modules"
RUNNER = Path(__file__).with_name("parity.mjs")


def answers_of(
    engine: str, modules: Iterable[Path], sheets: list[str], requests: list[str], folder: Path
) -> list[dict[str, Any]]:
    """Return an engine's answers, in order.

    engine: micropython or pyodide. modules: the Python files it may import. sheets, requests: JSON texts for the door.
    folder: where the job can be written. Raises AssertionError with what the engine says when it breaks down.
    """
    job = folder / "job.json"
    job.write_text(json.dumps({
        "engines": str(PACKAGES),
        "files": {path.relative_to(ROOT).as_posix(): path.read_text("utf-8") for path in sorted(modules)},
        "sheets": sheets,
        "requests": requests,
    }), "utf-8")
    node = shutil.which("node", path=str(Path(sys.executable).parent))
    assert node, "Node.js comes with the test environment: run `python3 -m build_tools test`"
    done = subprocess.run([node, str(RUNNER), engine, str(job)], capture_output=True, encoding="utf-8", timeout=300)
    assert done.returncode == 0, done.stderr
    answers: list[dict[str, Any]] = [json.loads(text) for text in json.loads(done.stdout)]
    return answers
