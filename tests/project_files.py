"""The project's own files, as a fresh copy of it would hold them."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

from build_tools.environment import ROOT

# What is installed, made or kept by tools.
ASIDE = {".build", ".git", ".hypothesis", ".mypy_cache", ".pytest_cache", ".ruff_cache", ".venv"}


def own_files() -> list[Path]:
    """All files but what is installed, made or kept by tools, sorted."""
    found = []
    for folder, folders, files in os.walk(ROOT):
        here = Path(folder)
        # The finished site lies at the top; tests/site holds tests.
        aside = ASIDE | {"node_modules", "__pycache__"} | ({"site", "packed"} if here == ROOT else set())
        folders[:] = [name for name in folders if name not in aside]
        found += [here / name for name in files]
    return sorted(found)


def bare_copy(target: Path) -> Path:
    """Copy the project's own files into an empty folder, as somebody who has just fetched it would have them."""
    for path in own_files():
        copy = target / path.relative_to(ROOT)
        copy.parent.mkdir(parents=True, exist_ok=True)
        shutil.copy2(path, copy)
    return target
