"""Serve the handbook while it is being written: every change builds the site anew and pages reload."""

from __future__ import annotations

import subprocess
import sys
import time
from contextlib import suppress
from pathlib import Path

from build_tools.building import inputs_of
from build_tools.server import SiteServer, in_background

PREVIEW = Path(".build") / "preview"

# A Python of its own for each build, so that changed calculators and build tools count too.
BUILD_TOOLS = [sys.executable, "-m", "build_tools"]


def serve(root: Path, host: str = "127.0.0.1", port: int = 8000) -> None:
    """Build, serve on an address of this machine and watch, until the user stops it.

    The preview has a folder of its own: the published site stays as it is until `build`.
    """
    builds = 0
    # Before building: a change made meanwhile must not be missed.
    seen = _dates(root)
    _build(root)
    (root / PREVIEW).mkdir(parents=True, exist_ok=True)
    try:
        server = SiteServer(root / PREVIEW, host=host, port=port, live=lambda: str(builds))
    except OSError as error:
        raise SystemExit(f"Can't serve on {host}:{port} ({error}). Another port: serve --port 8001") from error
    with in_background(server), suppress(KeyboardInterrupt):
        print(f"The handbook is at {server.address} and follows every change. Stop with Ctrl+C.", flush=True)
        while True:
            time.sleep(0.5)
            now = _dates(root)
            if now != seen:
                seen = now
                _build(root)
                builds += 1
    print("Stopped.")


def _build(root: Path) -> None:
    # Whoever writes a figure looks at the page first; the second reader comes after.
    command = [*BUILD_TOOLS, "build", "--unread-ok", "--drafts", "--site", str(root / PREVIEW)]
    if subprocess.run(command, cwd=root).returncode:
        print("The preview stays as it was until this is mended.", flush=True)


def _dates(root: Path) -> dict[Path, tuple[int, int]]:
    """When each file that can change the site was written, and its size. Installed engines don't change."""
    dates = {}
    for path in inputs_of(root):
        if "node_modules" in path.parts:
            continue
        try:
            state = path.stat()
        except FileNotFoundError:
            # An editor renames its temporary files while we look.
            continue
        dates[path] = (state.st_mtime_ns, state.st_size)
    return dates
