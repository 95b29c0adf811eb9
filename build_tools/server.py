"""A small web server for one built site: for `serve` and for the tests, never for the public.

It sends the same security headers as a real server should, can stand the site under a sub-path, and can
play a server that labels everything as plain text, which the site must survive.
"""

from __future__ import annotations

import hashlib
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path, PurePosixPath
from typing import Any
from urllib.parse import unquote, urlsplit

from build_tools.compressing import KINDS, SUFFIX
from build_tools.headers import ASK_AGAIN, KEEP, SECURITY_HEADERS, TYPES
from build_tools.placing import is_hashed

# What is sent for a missing page where the site has no page of its own for that, such as before the first build.
MISSING = b"<!doctype html><html lang=en><title>Not found</title><body><p>There is no such page.</p></body></html>"

LIVE_SCRIPT = Path(__file__).with_name("live_reload.js")
LIVE_SCRIPT_NAME = "live-reload.js"
LIVE_STATE_NAME = "live-reload.txt"

# While writing, nothing may be kept: an old page would hide the change.
KEEPER_NAME = "service-worker.js"
KEEPER_OFF = Path(__file__).parent / "web" / "scripts" / "service_worker_off.js"


class SiteServer(ThreadingHTTPServer):
    """Serves one folder.

    folder: the built site.
    prefix: the sub-path the site stands under, "/" or such as "/ward/handbook/".
    wrong_types: label every file but the pages as plain text, as a badly set up server does.
    live: gives a text that changes with every rebuild; pages then reload themselves when it does.
    """

    daemon_threads = True

    def __init__(
        self,
        folder: Path,
        *,
        host: str = "127.0.0.1",
        port: int = 0,
        prefix: str = "/",
        wrong_types: bool = False,
        live: Callable[[], str] | None = None,
    ) -> None:
        if not (prefix.startswith("/") and prefix.endswith("/")):
            raise ValueError(f"The prefix is {prefix!r}; it must begin and end with a slash, such as /ward/")
        self.folder = folder.resolve()
        self.prefix = prefix
        self.wrong_types = wrong_types
        self.live = live
        super().__init__((host, port), SiteHandler)

    def handle_error(self, request: Any, client_address: Any) -> None:
        """Keep quiet when a browser breaks off what it was fetching, as it does when a page is left."""
        if not isinstance(sys.exc_info()[1], ConnectionError):
            super().handle_error(request, client_address)

    @property
    def address(self) -> str:
        """Where the front page of the site is, with a slash at the end."""
        return f"http://{self.server_address[0]!s}:{self.server_port}{self.prefix}"


class SiteHandler(BaseHTTPRequestHandler):
    """Answers GET and HEAD with files of the site and nothing else."""

    server: SiteServer
    protocol_version = "HTTP/1.1"

    def do_GET(self) -> None:
        path = unquote(urlsplit(self.path).path)
        if not path.startswith(self.server.prefix):
            if path + "/" == self.server.prefix:
                self._send(HTTPStatus.MOVED_PERMANENTLY, b"", "text/plain", {"Location": self.server.prefix})
            else:
                self._send_missing()
            return
        name = path.removeprefix(self.server.prefix)
        if self.server.live is not None and name == LIVE_STATE_NAME:
            self._send(HTTPStatus.OK, self.server.live().encode(), TYPES[".txt"], {"Cache-Control": "no-store"})
        elif self.server.live is not None and name == LIVE_SCRIPT_NAME:
            self._send(HTTPStatus.OK, LIVE_SCRIPT.read_bytes(), TYPES[".js"])
        elif self.server.live is not None and name == KEEPER_NAME:
            self._send(HTTPStatus.OK, KEEPER_OFF.read_bytes(), TYPES[".js"])
        else:
            self._send_file(name)

    do_HEAD = do_GET

    def log_message(self, format: str, *args: object) -> None:
        """Stay quiet: what went wrong shows in the browser."""

    def _send_file(self, name: str) -> None:
        parts = PurePosixPath(name or "index.html").parts
        # Nothing hidden, and nothing that another system would read as a drive, a root or a way out.
        if any(part.startswith((".", "/")) or set(part) & set("\\:\0") for part in parts):
            self._send_missing()
            return
        file = self.server.folder.joinpath(*parts)
        if file.is_dir():
            file = file / "index.html"
        if not file.is_file():
            self._send_missing()
            return
        headers = {"Vary": "Accept-Encoding"} if file.suffix in KINDS else {}
        compressed = file.with_name(file.name + SUFFIX)
        # While writing, pages change on their way out.
        if self.server.live is None and self._takes_gzip() and compressed.is_file():
            body = compressed.read_bytes()
            headers["Content-Encoding"] = "gzip"
        else:
            body = self._body_of(file)
        tag = f'"{hashlib.sha256(body).hexdigest()[:32]}"'
        headers |= {"ETag": tag, "Cache-Control": KEEP if is_hashed(file.name) else ASK_AGAIN}
        if self.headers.get("If-None-Match") == tag:
            self._send(HTTPStatus.NOT_MODIFIED, b"", self._type_of(file), headers)
        else:
            self._send(HTTPStatus.OK, body, self._type_of(file), headers)

    def _takes_gzip(self) -> bool:
        offered = (word.split(";")[0].strip() for word in self.headers.get("Accept-Encoding", "").split(","))
        return "gzip" in offered

    def _send_missing(self) -> None:
        page = self.server.folder / "404.html"
        body = self._body_of(page) if page.is_file() else self._following(MISSING)
        self._send(HTTPStatus.NOT_FOUND, body, TYPES[".html"])

    def _body_of(self, file: Path) -> bytes:
        body = file.read_bytes()
        return self._following(body) if file.suffix == ".html" else body

    def _following(self, page: bytes) -> bytes:
        """A page that reloads itself, when the server is live."""
        if self.server.live is None:
            return page
        # An outside script: the security headers allow none written into the page.
        script = f'<script src="{self.server.prefix}{LIVE_SCRIPT_NAME}" defer></script></body>'
        return page.replace(b"</body>", script.encode(), 1)

    def _type_of(self, file: Path) -> str:
        if self.server.wrong_types:
            # A page sent as plain text would be shown as text by every browser: no server gets that wrong.
            return TYPES[".html"] if file.suffix == ".html" else "text/plain"
        return TYPES.get(file.suffix, "application/octet-stream")

    def _send(self, status: HTTPStatus, body: bytes, content_type: str, headers: dict[str, str] | None = None) -> None:
        self.send_response(status)
        self.send_header("Content-Type", content_type)
        if status != HTTPStatus.NOT_MODIFIED:
            self.send_header("Content-Length", str(len(body)))
        for name, value in {**SECURITY_HEADERS, **(headers or {})}.items():
            self.send_header(name, value)
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(body)


@contextmanager
def running(folder: Path, *, prefix: str = "/", wrong_types: bool = False) -> Iterator[str]:
    """Serve a folder on a free port while the block runs; gives the address of the front page."""
    server = SiteServer(folder, prefix=prefix, wrong_types=wrong_types)
    with in_background(server):
        yield server.address


@contextmanager
def in_background(server: SiteServer) -> Iterator[None]:
    """Let a server answer while the block runs."""
    thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.05}, daemon=True)
    thread.start()
    try:
        yield
    finally:
        server.shutdown()
        thread.join()
        server.server_close()
