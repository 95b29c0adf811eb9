"""Chromium as a phone: slowed with all its workers, with a new profile, driven over a pipe."""

from __future__ import annotations

import itertools
import json
import os
import queue
import shutil
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

SLOWING = Path(__file__).with_name("slowing.py")
ARGUMENTS = (
    "--headless=new", "--no-sandbox", "--disable-gpu", "--remote-debugging-pipe", "--disable-background-networking",
    "--no-first-run", "--window-size=360,740", "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1",
)
PATIENCE = 90  # seconds


class Phone:
    """One browser with one page. `told` collects what the page says by `tell(...)`: (moment, value)."""

    def __init__(self, reading: int, writing: int, process: int) -> None:
        self._process = process
        self._slowing: subprocess.Popen[bytes] | None = None
        self.told: queue.Queue[tuple[float, Any]] = queue.Queue()
        self._from = os.fdopen(reading, "rb", buffering=0)
        self._to = os.fdopen(writing, "wb", buffering=0)
        self._numbers = itertools.count(1)
        self._waiting: dict[int, queue.Queue[dict[str, Any]]] = {}
        threading.Thread(target=self._listen, daemon=True).start()
        target = self.send("Target.createTarget", url="about:blank")["targetId"]
        self._session = self.send("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]
        self.send("Page.enable")
        self.send("Runtime.enable")
        self.send("Runtime.addBinding", name="tell")

    def _listen(self) -> None:
        kept = b""
        while got := self._from.read(1 << 16):
            *messages, kept = (kept + got).split(b"\0")
            for text in messages:
                message = json.loads(text)
                if waiting := self._waiting.pop(message.get("id", 0), None):
                    waiting.put(message)
                elif message.get("method") == "Runtime.bindingCalled":
                    self.told.put((time.monotonic(), json.loads(message["params"]["payload"])))

    def send(self, method: str, **parameters: Any) -> dict[str, Any]:
        """Send one command of the DevTools protocol. Raises RuntimeError with what the browser says."""
        number = next(self._numbers)
        waiting = self._waiting[number] = queue.Queue()
        message = {"id": number, "method": method, "params": parameters}
        if hasattr(self, "_session"):
            message["sessionId"] = self._session
        self._to.write(json.dumps(message).encode() + b"\0")
        answer = waiting.get(timeout=PATIENCE)
        if "error" in answer:
            raise RuntimeError(f"{method}: {answer['error']['message']}")
        return dict(answer["result"])

    def slow(self, slowed: bool = True) -> None:
        """Slow the browser down from now on, or let it run at its own pace."""
        if slowed and self._slowing is None:
            self._slowing = subprocess.Popen([sys.executable, str(SLOWING), str(self._process)])
        elif self._slowing is not None and not slowed:
            self._slowing.terminate()
            self._slowing.wait()
            self._slowing = None

    def before_each_page(self, script: str) -> None:
        self.send("Page.addScriptToEvaluateOnNewDocument", source=script)

    def open(self, address: str) -> None:
        self.send("Page.navigate", url=address)

    def run(self, expression: str) -> Any:
        """Evaluate an expression or promise in the page; gives its value."""
        got = self.send("Runtime.evaluate", expression=expression, awaitPromise=True, returnByValue=True)
        if "exceptionDetails" in got:
            raise RuntimeError(got["exceptionDetails"]["exception"].get("description", "the page threw"))
        return got["result"].get("value")

    def hear(self, wanted: Callable[[Any], bool]) -> tuple[float, Any]:
        """Wait until the page tells something that is wanted; gives the moment it was told, and it."""
        until = time.monotonic() + PATIENCE
        while True:
            moment, said = self.told.get(timeout=max(0.01, until - time.monotonic()))
            if wanted(said):
                return moment, said


@contextmanager
def phone(*, slowed: bool = True) -> Iterator[Phone]:
    """Start a browser with an empty profile, slowed from its start; end it afterwards."""
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as profile:
        to_browser, from_browser = os.pipe(), os.pipe()
        command = [
            # The browser reads the pipe at 3 and writes it at 4, whatever their numbers are here.
            "/bin/sh", "-c", f'exec "$@" 3<&{to_browser[0]} 4>&{from_browser[1]}', "sh",
            str(shutil.which("chromium")), *ARGUMENTS, f"--user-data-dir={profile}", "about:blank",
        ]
        pipes = (to_browser[0], from_browser[1])
        with subprocess.Popen(command, pass_fds=pipes, stderr=subprocess.DEVNULL, stdout=subprocess.DEVNULL) as browser:
            for end in pipes:
                os.close(end)
            made = Phone(from_browser[0], to_browser[1], browser.pid)
            made.slow(slowed)
            try:
                yield made
            finally:
                made.slow(False)
                browser.kill()
