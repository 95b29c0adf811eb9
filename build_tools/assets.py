"""The site's style sheet and scripts, under names that carry the hash of their content."""

from __future__ import annotations

import hashlib
import re
from pathlib import Path

import material

from build_tools import __date__, __version__, theme_style

WEB = Path(__file__).parent / "web"
FOLDER = "assets"

# Order matters: later rules win. The calculator's own sheet travels with the pages that calculate.
STYLES = ("tokens", "base", "frame", "parts", "lists", "figures", "sources", "offline", "print", "order")
# Each script of the site, and the files it is joined from. `search` is on every page and comes first.
SCRIPTS = {
    "scheme": ("scheme", "styles"),
    "search": ("words", "search"),
    "folded": ("folded",),
    "lists": ("lists",),
    "values": ("values",),
    "late": ("late",),
    "offline": ("offline",),
}
# What the theme itself brings. Its other files (maps, stock pictures, its own search) are left out of the site.
THEME = Path(material.__file__).parent / "templates" / "assets"
THEME_STYLE = "stylesheets/main.*.min.css"
THEME_SCRIPT = "javascripts/bundle.*.min.js"
# What every printed page says at its foot, so that a sheet torn from the others still tells what it is.
PAGE_FOOT = """@page {{
@bottom-left {{ content: "Pulse & Ruler {version}, built {date}. For teaching and reference."; font: 8pt sans-serif; }}
@bottom-right {{ content: counter(page) " of " counter(pages); font: 8pt sans-serif; }}
}}
"""

_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
_MAP = re.compile(r"(/\*|//)# sourceMappingURL=.*")
_SPACE = re.compile(r"\s*\n\s*")


def stylesheet() -> str:
    """Join the style sheets into one, without comments: one request, and nothing waits for it twice.

    What is used of the theme's own sheet comes first, in a layer of its own, so that any rule of the handbook's wins.
    """
    theme = theme_style.used(_of_theme(THEME_STYLE))
    texts = [(WEB / "styles" / f"{name}.css").read_text(encoding="utf-8") for name in STYLES]
    texts.append(PAGE_FOOT.format(version=__version__, date=__date__))
    own = _SPACE.sub("\n", _COMMENT.sub("", "\n".join(texts))).strip()
    return f"@layer theme {{\n{theme}\n}}\n{own}\n"


def contents() -> dict[str, tuple[str, str]]:
    """Give plain name -> (path in the site, text) of each style sheet and script of the theme."""
    texts = {"site.css": stylesheet()}
    for name, parts in SCRIPTS.items():
        files = [WEB / "scripts" / f"{part}.js" for part in parts]
        texts[f"{name}.js"] = "\n".join(file.read_text(encoding="utf-8") for file in files)
    texts["bundle.js"] = _plain(_of_theme(THEME_SCRIPT))
    return {name: (_place(name, text), text) for name, text in texts.items()}


def addresses() -> dict[str, str]:
    """Give plain name -> path in the site, as the page template needs it."""
    return {name: place for name, (place, _) in contents().items()}


def write(site_dir: Path | str) -> None:
    """Write every style sheet and script of the theme into the built site."""
    for place, text in contents().values():
        path = Path(site_dir) / place
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")


def _place(name: str, text: str) -> str:
    stem, _, suffix = name.rpartition(".")
    return f"{FOLDER}/{stem}.{hashlib.sha256(text.encode()).hexdigest()[:16]}.{suffix}"


def _of_theme(pattern: str) -> str:
    (path,) = THEME.glob(pattern)
    return path.read_text(encoding="utf-8")


def _plain(text: str) -> str:
    """Drop the pointer to a map that is not there."""
    return _MAP.sub("", text).strip()
