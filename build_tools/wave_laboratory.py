"""The wave laboratory as static HTML: what can be chosen, the place of the traces, and what the numbers rest on.

Without the page's script a drawing stands in the place of the traces. Sources are left as marks, which the page
numbers with its own.
"""
from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING, Any

from markdown.extensions.toc import slugify

from build_tools.figures import draw

if TYPE_CHECKING:
    from build_tools.handbook import Handbook

MODEL = "wave_laboratory"
SPEEDS = (("1", "Full speed"), ("0.5", "½ speed"), ("0.25", "¼ speed"))
RATE_STEP = 5


def html(handbook: Handbook) -> str:
    """Give the laboratory's place on a page."""
    data = handbook.models[MODEL].data
    drawing = draw("jugular-waves", prefix="wave-laboratory")
    return "\n".join([
        '<section class="laboratory wave-laboratory" data-laboratory="wave_laboratory" aria-label="Wave laboratory">',
        f'<div class="wave-still"><figure class="figure">{drawing}</figure>'
        "<noscript><p>The traces run by the page’s scripts, which your browser does not run. "
        "What to look for stands below.</p></noscript></div>",
        '<div class="wave-live" hidden>',
        '<form class="wave-choices">',
        _select("condition", "Condition", data["conditions"]),
        _select("rhythm", "Rhythm", data["rhythms"]),
        _select("breathing", "Breathing", data["breathing"]),
        "</form>",
        '<div class="wave-screen">'
        '<canvas role="img" aria-label="Four traces on one time axis: ECG, arterial pulse, neck veins, heart sounds" '
        'aria-describedby="wave-told"></canvas>'
        '<p class="wave-status" role="status"></p>'
        '<button type="button" class="wave-again" data-act="again" hidden>Try again</button></div>',
        '<div class="wave-acts" role="group" aria-label="Run, stop and stretch the traces">'
        '<button type="button" data-act="run">Pause</button>'
        '<button type="button" data-act="step">Step</button>'
        f'<select aria-label="Speed" data-act="speed">{_options(SPEEDS)}</select>'
        '<button type="button" data-act="closer" aria-pressed="false">Closer</button></div>',
        '<div class="wave-rate"><label for="wave-rate">Rate</label>'
        f'<input type="range" id="wave-rate" data-choice="rate" min="40" max="140" step="{RATE_STEP}" value="75">'
        '<output for="wave-rate">75 a minute</output></div>',
        '<p class="wave-beat" aria-live="polite"></p>',
        '<p class="wave-calm" hidden>Your device asks for less motion, so the traces go beat by beat.</p>',
        '<details class="wave-words"><summary>The traces in words</summary><ul id="wave-told"></ul></details>',
        "</div>",
        f"<details><summary>What the traces are drawn from</summary>{_sources(data)}</details>",
        "</section>",
    ])


def section_of(name: str) -> str:
    """Give the id of the heading on the page that tells what to look for."""
    return str(slugify(name, "-"))


def _select(choice: str, label: str, rows: list[dict[str, Any]]) -> str:
    options = []
    for row in rows:
        facts = f' data-section="{section_of(row["name"])}"'
        if "rates" in row:
            facts += f' data-low="{row["rates"][0]}" data-high="{row["rates"][1]}"'
        if "rate" in row:
            facts += f' data-rate="{row["rate"]}"'
        options.append(f'<option value="{row["id"]}"{facts}>{escape(row["name"], quote=False)}</option>')
    return (
        f'<div class="wave-{choice}"><label for="wave-{choice}">{label}</label>'
        f'<select id="wave-{choice}" data-choice="{choice}" autocomplete="off">{"".join(options)}</select></div>'
    )


def _options(pairs: tuple[tuple[str, str], ...]) -> str:
    return "".join(f'<option value="{value}">{words}</option>' for value, words in pairs)


def _sources(data: dict[str, Any]) -> str:
    return "<ul>" + "".join(
        f"<li><strong>{escape(row['name'], quote=False)}.</strong> {escape(row['source'], quote=False)}</li>"
        for group in ("conditions", "rhythms", "breathing") for row in data[group]
    ) + "</ul>"
