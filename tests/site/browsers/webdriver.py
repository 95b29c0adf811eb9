"""WebDriver, the W3C's protocol, as far as the journeys need it: over HTTP for WebKit, over a socket for Firefox.

Firefox speaks it by itself (Marionette); the program that stands between it and HTTP is in no package of Debian's.
"""

from __future__ import annotations

import http.client
import json
import os
import shutil
import signal
import socket
import subprocess
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any, Protocol

ELEMENT = "element-6066-11e4-a52e-4f735466cecf"  # by this name the protocol hands out elements
START_LIMIT = 30  # seconds
ANSWER_LIMIT = 120

# Debian keeps it outside the path, in a folder named after machine and version.
MINIBROWSER = "webkit2gtk-4.*/MiniBrowser"

FIREFOX_PREFERENCES = {
    "layout.css.prefers-color-scheme.content-override": 0,  # dark
    # Nothing goes out that no page asked for.
    "app.normandy.enabled": False,
    "app.update.disabledForTesting": True,
    "browser.aboutConfig.showWarning": False,
    "browser.region.network.url": "",
    "browser.safebrowsing.malware.enabled": False,
    "browser.safebrowsing.phishing.enabled": False,
    "browser.search.update": False,
    "browser.startup.homepage_override.mstone": "ignore",
    "browser.startup.page": 0,
    "captivedetect.canonicalURL": "",
    "datareporting.policy.dataSubmissionEnabled": False,
    "extensions.getAddons.cache.enabled": False,
    "extensions.systemAddon.update.enabled": False,
    "extensions.update.enabled": False,
    "network.connectivity-service.enabled": False,
    "network.captive-portal-service.enabled": False,
    "network.dns.disablePrefetch": True,
    "services.settings.server": "data:,#remote-settings-dummy/v1",
    "toolkit.telemetry.reportingpolicy.firstRun": False,
}


class WebDriverFault(Exception):
    """What the browser answered in place of a result."""


class Wire(Protocol):
    """How commands reach a browser. name: as the protocol calls it; path, method: the same over HTTP."""

    def command(self, name: str, path: str, content: dict[str, Any] | None = None, method: str = "POST") -> Any: ...


class WebDriver:
    """A browser that speaks WebDriver, in the verbs of the journeys."""

    def __init__(self, name: str, wire: Wire) -> None:
        self.name = name
        self._wire = wire

    def open(self, address: str) -> None:
        self._wire.command("Navigate", "/url", {"url": address})

    def run(self, script: str, *given: Any) -> Any:
        """Run the body of a function in the page; gives what it returns. given: what the script sees as arguments."""
        return self._wire.command("ExecuteScript", "/execute/sync", {"script": script, "args": list(given)})

    def type(self, place: str, text: str) -> None:
        """Press keys in the first field that a CSS selector finds."""
        path = f"/element/{self._find(place)}/value"
        self._wire.command("ElementSendKeys", path, {"id": self._find(place), "text": text})

    def press(self, place: str) -> None:
        """Click on the first element that a CSS selector finds."""
        self._wire.command("ElementClick", f"/element/{self._find(place)}/click", {"id": self._find(place)})

    def _find(self, place: str) -> str:
        found = self._wire.command("FindElement", "/element", {"using": "css selector", "value": place})
        # Firefox wraps it once more.
        return str(found.get("value", found)[ELEMENT])


@contextmanager
def firefox(program: str) -> Iterator[WebDriver]:
    """Start Firefox with a profile of its own, and end it after the block."""
    with _folder() as profile:
        preferences = {**FIREFOX_PREFERENCES, "marionette.port": 0}
        lines = [f"user_pref({json.dumps(name)}, {json.dumps(value)});\n" for name, value in preferences.items()]
        Path(profile, "user.js").write_text("".join(lines), encoding="utf-8")
        command = [program, "--headless", "--marionette", "--no-remote", "--profile", profile]
        with _running(command, HOME=profile):
            # Firefox writes down which port it took.
            port = _awaited(lambda: int(Path(profile, "MarionetteActivePort").read_text(encoding="utf-8")))
            wire = _Marionette(port)
            wire.command("NewSession", "", {"capabilities": {"alwaysMatch": {"pageLoadStrategy": "normal"}}})
            yield WebDriver("Firefox", wire)
            wire.command("DeleteSession", "")
            wire.close()


@contextmanager
def webkit(program: str) -> Iterator[WebDriver]:
    """Start WebKitGTK's small browser on a screen that nobody sees, and end it after the block."""
    browser = max(Path("/usr/lib").glob(f"*/{MINIBROWSER}"))
    with socket.create_server(("127.0.0.1", 0)) as free:
        port = free.getsockname()[1]
    with _folder() as home:
        command = ["xvfb-run", "--auto-servernum", program, f"--port={port}"]
        # The theme's name is how a GTK program learns that the desktop is dark.
        with _running(command, HOME=home, GTK_THEME="Adwaita:dark"):
            wire = _Http(port)
            wanted = {"webkitgtk:browserOptions": {"binary": str(browser), "args": ["--automation"]}}
            session = _awaited(lambda: wire.command("", "/session", {"capabilities": {"alwaysMatch": wanted}}))
            wire.session = f"/session/{session['sessionId']}"
            yield WebDriver("WebKit", wire)
            wire.command("", "", method="DELETE")


class _Http:
    """The protocol over HTTP."""

    def __init__(self, port: int) -> None:
        self._port = port
        self.session = ""

    def command(self, name: str, path: str, content: dict[str, Any] | None = None, method: str = "POST") -> Any:
        connection = http.client.HTTPConnection("127.0.0.1", self._port, timeout=ANSWER_LIMIT)
        try:
            body = json.dumps(content or {}) if method == "POST" else None
            connection.request(method, self.session + path, body, {"Content-Type": "application/json"})
            answer = connection.getresponse()
            value = json.loads(answer.read())["value"]
        finally:
            connection.close()
        if answer.status != http.client.OK:
            raise WebDriverFault(f"{name or method} {path}: {value['error']}: {value['message']}")
        return value


class _Marionette:
    """The protocol as Firefox speaks it: on a socket, each message as its length, a colon, and JSON."""

    def __init__(self, port: int) -> None:
        self._socket = socket.create_connection(("127.0.0.1", port), timeout=ANSWER_LIMIT)
        self._file = self._socket.makefile("rb")
        self._number = 0
        self._message()  # it begins by saying what it is

    def command(self, name: str, path: str, content: dict[str, Any] | None = None, method: str = "POST") -> Any:
        self._number += 1
        text = json.dumps([0, self._number, f"WebDriver:{name}", content or {}]).encode()
        self._socket.sendall(f"{len(text)}:".encode() + text)
        _, _, fault, result = self._message()
        if fault:
            raise WebDriverFault(f"{name}: {fault['error']}: {fault['message']}")
        return result["value"] if name == "ExecuteScript" else result

    def close(self) -> None:
        self._file.close()
        self._socket.close()

    def _message(self) -> Any:
        length = b""
        while not length.endswith(b":"):
            length += self._file.read(1)
        return json.loads(self._file.read(int(length[:-1])))


def _folder() -> tempfile.TemporaryDirectory[str]:
    # A browser that is ending may still write into it.
    return tempfile.TemporaryDirectory(ignore_cleanup_errors=True)


@contextmanager
def _running(command: list[str], **surroundings: str) -> Iterator[None]:
    """Let a program and all that it starts run while the block runs."""
    program = shutil.which(command[0])
    assert program, command[0]
    quiet = subprocess.DEVNULL
    own = {**os.environ, **surroundings}
    process = subprocess.Popen([program, *command[1:]], env=own, stdout=quiet, stderr=quiet, start_new_session=True)
    try:
        yield
    finally:
        # A group of its own: nothing but what was started here is ended.
        with suppress(ProcessLookupError):
            os.killpg(process.pid, signal.SIGTERM)
            try:
                process.wait(timeout=10)
            except subprocess.TimeoutExpired:
                os.killpg(process.pid, signal.SIGKILL)
                process.wait()


def _awaited(attempt: Any) -> Any:
    """Try until it works: a program needs a moment before it listens."""
    end = time.monotonic() + START_LIMIT
    while True:
        try:
            return attempt()
        except (OSError, ValueError, http.client.HTTPException):
            if time.monotonic() > end:
                raise
            time.sleep(0.1)
