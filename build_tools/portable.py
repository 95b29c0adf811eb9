"""The portable edition: a finished site made over into a folder that opens by double-click, without a server.

What differs from the site, and why:

- Each file that pages fetch travels as a script that carries it, since a page opened from a disk may fetch nothing
  (web/scripts/portable.js stands in for the server). Pages stay as they are but for their heads and three sentences.
- One engine: the second is more than twenty times as large. So no answer is checked twice, and the page says so
  beside each.
- The security policy stands in each page, for no server sends it, and names files in place of the site's own address.
  It still allows no code written into a page, no connection and nothing from outside. It adds workers from text that
  a page holds, the only ones that a browser starts here, and cannot say who may frame a page: only a server can.
- Nothing is kept in the browser and there are no compressed twins: the folder itself is the copy.
"""

from __future__ import annotations

import base64
import hashlib
import json
import re
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from build_tools import __date__, __version__, offline, runtime
from build_tools.compressing import SUFFIX
from build_tools.headers import CONTENT_SECURITY_POLICY
from build_tools.placing import files_of

STAND_IN = Path(__file__).parent / "web" / "scripts" / "portable.js"
# What a page can only fetch: packed data, and lists.
FETCHED = (".bin", ".json")
LEFT_OUT = frozenset({offline.WORKER, offline.OFF, offline.MANIFEST})
READ_ME = "read-me-first.txt"

# What headers.py says, for a page without a server: the folder's files are "self" in one browser and "file:" in
# another, and a meta element cannot say who may frame the page.
POLICY = {
    directive: value.replace("'self'", "'self' file:")
    for directive, value in CONTENT_SECURITY_POLICY.items()
    if directive != "frame-ancestors"
} | {"connect-src": "'none'", "worker-src": "blob:", "manifest-src": "'none'"}

_TOP = re.compile(re.escape(runtime.TOP))
_LIST = re.compile(r'(<script type="application/json" id="[^"]+">)(.*?)(</script>)', re.DOTALL)
_HINT = re.compile(r'<link rel="(?:preload|manifest)"[^>]*>\s*')
_KEEPING_SCRIPT = re.compile(r'<script [^>]*src="[^"]*assets/offline\.[^"]*"[^>]*></script>\s*')
_KEEPING = re.compile(r"<section [^>]*data-offline\b.*?</section>", re.DOTALL)
_VERSION = re.compile(r'(<p class="foot-version">.*?)(</p>)', re.DOTALL)

_ON_THIS_DEVICE = (
    '<section class="calculator" aria-labelledby="offline-title"><h3 id="offline-title">On this device now</h3>'
    "<p>This is the portable edition: all of it lies in the folder that you opened, and needs no network.</p></section>"
)
_EDITION = ". Portable edition: one engine, no second check."
_READ_ME = """Pulse & Ruler {version}, portable edition, built {date}

Open the file index.html in this folder with a double-click.
It opens in the browser and needs no network and no installation.
Copy the whole folder, not a single file of it.

This edition has one calculation engine: no second one checks its answers.
To check the calculators on your own computer, search in it for: prove
On a phone or tablet use the handbook's web site.

For teaching and reference. Local protocols and licensed practice come first.
"""


def write(site: Path, folder: Path) -> None:
    """Write the portable edition of a finished site into a folder that is empty or not there.

    Raises ValueError when a page is not built as this expects.
    """
    names = files_of(site)
    pages = {name: (site / name).read_text(encoding="utf-8") for name in sorted(names) if name.endswith(".html")}
    first, others = _engines(pages.values())
    dropped = _names(others) - _names(first)
    workers = {engine["script"] for engine in first}
    stand_in = STAND_IN.read_bytes()
    stand_in_name = f"assets/portable.{hashlib.sha256(stand_in).hexdigest()[:16]}.js"
    _write(folder / stand_in_name, stand_in)
    _write(folder / READ_ME, _READ_ME.format(version=__version__, date=__date__).encode())
    for name, text in pages.items():
        _write(folder / name, _portable_page(name, text, stand_in_name).encode())
    for name in sorted(names - pages.keys() - LEFT_OUT):
        content = (site / name).read_bytes()
        of_engines = name.removeprefix(f"{runtime.FOLDER}/")
        if name.endswith(SUFFIX) or of_engines in dropped:
            continue
        if of_engines in workers:
            # What a worker has of its own comes in from outside, so that a page could run it too.
            function = f"function (self, fetch, postMessage) {{\n{content.decode()}}}"
            _write(folder / f"{name}.js", _carrying(name, function))
        elif name.endswith(FETCHED):
            _write(folder / f"{name}.js", _carrying(name, f'"{base64.b64encode(content).decode()}"'))
        else:
            _write(folder / name, content)


def _engines(pages: Iterable[str]) -> tuple[list[dict[str, Any]], list[dict[str, Any]]]:
    """Give what the pages' lists of files say of the first engine, and of the others."""
    first, others = [], []
    for text in pages:
        for _, content, _ in _LIST.findall(text):
            engines = json.loads(content).get("engines", [])
            first += engines[:1]
            others += engines[1:]
    return first, others


def _names(engines: list[dict[str, Any]]) -> set[str]:
    return {
        name
        for engine in engines
        for name in (engine["script"], *(file["name"] for file in (*engine["engine"].values(), *engine["packs"])))
    }


def _carrying(name: str, content: str) -> bytes:
    return f'pulseRulerCarries("{name}", {content});\n'.encode()


def _portable_page(name: str, text: str, stand_in: str) -> str:
    base = "../" * name.count("/") or "./"
    policy = "; ".join(f"{directive} {value}" for directive, value in POLICY.items())
    start = (
        f'{runtime.TOP}<meta http-equiv="Content-Security-Policy" content="{policy}">'
        f'<script src="{base}{stand_in}" data-base="{base}"></script>'
    )
    text = _LIST.sub(_with_first_engine, _HINT.sub("", text))
    text = _KEEPING.sub(_ON_THIS_DEVICE, text)
    for expected, new in ((_TOP, start), (_KEEPING_SCRIPT, ""), (_VERSION, rf"\1{_EDITION}\2")):
        text, found = expected.subn(new, text)
        if found != 1:
            raise ValueError(
                f"{name} holds {found} times what the portable edition changes once in each page: {expected.pattern}. "
                "The pages are built in another way now: adapt build_tools/portable.py."
            )
    return text


def _with_first_engine(found: re.Match[str]) -> str:
    start, content, end = found.groups()
    listed = json.loads(content)
    if "engines" not in listed:
        return found.group()
    listed["engines"] = listed["engines"][:1]
    return start + runtime.in_data_block(listed) + end


def _write(path: Path, content: bytes) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(content)
