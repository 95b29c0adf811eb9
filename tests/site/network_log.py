"""Chromium's own log of the network: what pages and their workers asked for, seen from below any page."""

from __future__ import annotations

import json
from pathlib import Path


def writing(log: Path) -> list[str]:
    """The arguments that make Chromium write it; it is whole once the browser is closed."""
    return [f"--log-net-log={log}", "--net-log-capture-mode=Default"]


def asked_for(log: Path) -> set[str]:
    """Give the addresses of all requests that pages and their workers began.

    Requests that the browser makes for itself (its updates, its form filling) have no page as their initiator.
    """
    events = json.loads(log.read_text(encoding="utf-8"))["events"]
    parameters = [event.get("params", {}) for event in events]
    return {found["url"] for found in parameters if "url" in found and "://" in found.get("initiator", "")}
