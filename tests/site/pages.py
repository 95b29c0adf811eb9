"""The pages of the built site."""

from __future__ import annotations

from pathlib import Path


def all_pages(site: Path) -> list[str]:
    return sorted(path.relative_to(site).as_posix() for path in site.rglob("*.html"))

