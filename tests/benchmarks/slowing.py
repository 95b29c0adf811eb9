"""Slow down every page and worker of a running browser, as a phone's processor would.

A browser's own slowing reaches the page and not its workers. So the processes that run pages and workers are
stopped and let go again, a few milliseconds at a time: with SLOWED of 4 they run a quarter of the time.
Runs as a process of its own: python slowing.py PID-OF-THE-BROWSER. Linux only.
"""

from __future__ import annotations

import os
import signal
import sys
import time
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

SLOWED = 4
RUNNING = 0.002  # seconds at a time; short beside anything that is measured, long beside the cost of a signal
LOOK_AGAIN = 0.05  # seconds between looks for new processes


def renderers(browser: int) -> Iterator[int]:
    """Yield the processes of a browser that run pages and workers."""
    for child in _descendants(browser):
        with suppress(OSError):
            if b"--type=renderer" in Path(f"/proc/{child}/cmdline").read_bytes():
                yield child


def _descendants(process: int) -> Iterator[int]:
    for task in Path(f"/proc/{process}/task").glob("*/children"):
        with suppress(OSError):
            for child in task.read_text(encoding="utf-8").split():
                yield int(child)
                yield from _descendants(int(child))


def _signal(processes: list[int], which: signal.Signals) -> None:
    for process in processes:
        with suppress(ProcessLookupError):
            os.kill(process, which)


def slow_down(browser: int) -> None:
    """Stop and go until the browser ends."""
    stopping = True

    def end(*_: object) -> None:
        nonlocal stopping
        stopping = False

    signal.signal(signal.SIGTERM, end)
    processes: list[int] = []
    looked = -1.0
    while stopping and Path(f"/proc/{browser}").exists():
        began = time.monotonic()
        if began - looked > LOOK_AGAIN:
            processes, looked = list(renderers(browser)), began
        time.sleep(RUNNING)
        # What really passed counts: on a busy machine a sleep lasts longer than asked for.
        ran = time.monotonic() - began
        _signal(processes, signal.SIGSTOP)
        time.sleep(ran * (SLOWED - 1))
        _signal(processes, signal.SIGCONT)
    _signal(list(renderers(browser)), signal.SIGCONT)


if __name__ == "__main__":
    slow_down(int(sys.argv[1]))
