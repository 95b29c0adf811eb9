"""Files under content/: plain names, known types, drawings without scripts, nothing that no page shows."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

from build_tools.problems import Problem
from build_tools.prose import LINK

if TYPE_CHECKING:
    from build_tools.handbook import Handbook

NAME = re.compile(r"[a-z0-9][a-z0-9_.-]*$")
TYPES = {".md": "pages", ".toml": "data", ".bib": "references", ".svg": "drawings", ".png": "pictures"}
LARGEST = 500_000  # bytes: a page is read on a phone
ACTIVE = re.compile(r"<script|<foreignObject|\son[a-z]+\s*=|(?:href|src)\s*=\s*[\"'](?!#)|url\((?!#)", re.IGNORECASE)


def check(handbook: Handbook) -> Iterator[Problem]:
    """Yield files with a wrong name, type or size, active drawings and pictures that no page shows."""
    content = handbook.root / "content"
    shown = {
        posixpath.normpath(posixpath.join(posixpath.dirname(page.id), found.group(3).partition("#")[0]))
        for page in handbook.pages.values()
        for line in page.prose
        if line.form == "text"
        for found in LINK.finditer(line.text)
    }
    for path in sorted(content.rglob("*")):
        name = path.relative_to(content).as_posix()
        file = f"content/{name}"
        if not NAME.match(path.name):
            yield Problem(file, 0, f'the name "{path.name}" is not plain', "use lower-case letters, digits and hyphens")
        if path.is_dir():
            continue
        if path.suffix not in TYPES:
            yield Problem(
                file,
                0,
                f'files of the type "{path.suffix}" do not belong here',
                f"content/ holds {', '.join(f'{what} ({end})' for end, what in TYPES.items())}",
            )
            continue
        size = path.stat().st_size
        if not size:
            yield Problem(file, 0, "the file is empty", "fill or remove it")
        if path.suffix in (".svg", ".png"):
            if size > LARGEST:
                yield Problem(
                    file, 0, f"the picture has {size:,} bytes, at most {LARGEST:,} are allowed", "make it smaller"
                )
            if name not in shown:
                yield Problem(file, 0, "no page shows this picture", "show it with ![words](name), or remove it")
        if path.suffix == ".svg" and (found := ACTIVE.search(path.read_text(encoding="utf-8"))):
            yield Problem(
                file, 0, f'the drawing holds "{found.group().strip()}"', "remove scripts and outside addresses from it"
            )
