"""What lets a reader keep the handbook on a phone: the service worker with its list of files, and the manifest.

The list holds the address and the hash of every file. Pages and the first engine are kept on the first visit;
the second engine, by far the largest, when the reader asks for it.
"""

from __future__ import annotations

import base64
import hashlib
import json
from pathlib import Path
from typing import TYPE_CHECKING

from build_tools.compressing import SUFFIX
from build_tools.placing import SERVER_FILES, files_of

if TYPE_CHECKING:
    from build_tools.handbook import Handbook

SCRIPTS = Path(__file__).parent / "web" / "scripts"
WORKER = "service-worker.js"
OFF = "service-worker-off.js"
MANIFEST = "manifest.webmanifest"
LIST = "const LIST = null;"

# What the first engine and the pages need of the engines' folder; the rest is the second engine's.
FIRST_ENGINE = ("engine/micropython.", "engine/calculator.", "engine/laboratory-", "engine/proof.")

COLOURS = {"background_color": "#fbf8f2", "theme_color": "#5b2a8c"}


def write(site_dir: Path | str) -> None:
    """Write manifest, service worker and the worker that takes it back into a finished site."""
    site = Path(site_dir)
    manifest = {
        "name": "Pulse & Ruler",
        "short_name": "Pulse & Ruler",
        "description": "The bedside cardiovascular examination, step by step",
        "lang": "en-GB",
        "id": "./",
        "start_url": "./index.html",
        "scope": "./",
        "display": "standalone",
        **COLOURS,
        "icons": [
            {"src": "assets/icon.svg", "sizes": "any", "type": "image/svg+xml"},
            *(
                {"src": f"assets/icon-{size}.png", "sizes": f"{size}x{size}", "type": "image/png"}
                for size in (192, 512)
            ),
        ],
    }
    _write(site / MANIFEST, json.dumps(manifest, ensure_ascii=False, indent=1) + "\n")
    _write(site / OFF, (SCRIPTS / "service_worker_off.js").read_text(encoding="utf-8"))
    worker = (SCRIPTS / "service_worker.js").read_text(encoding="utf-8")
    if worker.count(LIST) != 1:
        raise ValueError(f"service_worker.js must hold {LIST!r} once: there the list of files is put in")
    _write(site / WORKER, worker.replace(LIST, f"const LIST = {json.dumps(_list(site), separators=(',', ':'))};"))


def _list(site: Path) -> dict[str, object]:
    """Give {build, first, rest}: each file as [address, SHA-256 in base64, bytes]."""
    groups: dict[str, list[list[object]]] = {"first": [], "rest": []}
    for name in sorted(files_of(site)):
        # Servers refuse to give out what they read themselves, and a refused file would spoil the whole version.
        if name in (WORKER, OFF) or name.endswith(SUFFIX) or name.startswith(SERVER_FILES + "/"):
            continue
        content = (site / name).read_bytes()
        digest = base64.b64encode(hashlib.sha256(content).digest()).decode()
        groups["first" if is_first(name) else "rest"].append([name, digest, len(content)])
    build = hashlib.sha256(json.dumps(groups).encode()).hexdigest()[:16]
    return {"build": build, **groups}


def is_first(name: str) -> bool:
    """Whether a file is kept on the first visit."""
    return not name.startswith("engine/") or name.startswith(FIRST_ENGINE) or "-compiled." in name


def _write(path: Path, text: str) -> None:
    path.write_text(text, encoding="utf-8", newline="\n")


def offline_html(handbook: Handbook) -> str:
    """Give the place on a page that says what is kept, and lets the reader keep all of it."""
    return (
        '<section class="calculator" data-offline aria-labelledby="offline-title">'
        '<h3 id="offline-title">On this device now</h3>'
        '<noscript><p>Keeping needs the page’s scripts, which your browser does not run.</p></noscript>'
        '<p role="status" data-offline-told></p>'
        '<p data-offline-more hidden><button type="button" data-offline-keep>Keep the whole handbook on this phone'
        "</button></p>"
        '<p><progress data-offline-progress aria-label="Kept so far" hidden></progress></p>'
        "</section>"
    )
