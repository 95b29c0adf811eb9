"""The listening room as static HTML: its controls, and for every sound what is heard, where, and from which source.

All of it reads without JavaScript; with it, the page script fills the two places, A and B, and makes them play.
Sources are left as marks, which the page they land in numbers with its own.
"""
from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING, Any

from build_tools.markup import table

if TYPE_CHECKING:
    from build_tools.handbook import Handbook

Row = dict[str, Any]

MODEL = "heart_sounds"
PAGE = "learning/listening-room"
MARK = "Synthetic teaching sound"
WORDS = {"strain": "straining", "standing": "standing up"}


def scenes(handbook: Handbook) -> dict[str, Row]:
    """Give everything that can be heard, by id."""
    model = handbook.models.get(MODEL)
    return {scene["id"]: scene for scene in model.data["scenes"]} if model else {}


def anchor(scene_id: str) -> str:
    """Give the id on the room's page that names a sound: a link to it opens the room with that sound."""
    return f"hear-{scene_id}"


def html(handbook: Handbook) -> str:
    """Give the room. Playing needs the page's script."""
    room = handbook.models[MODEL].data
    return "\n".join((
        '<section class="laboratory room" data-laboratory="listening_room" aria-labelledby="room-title">',
        f'<h2 id="room-title">Listen <span class="room-mark">{MARK}</span></h2>',
        '<div class="admonition take-care"><p class="admonition-title"><span class="grade">Take care</span>: '
        "Headphones, and a low volume first</p><p>A phone’s speaker cannot carry sounds this low. Turn your device "
        "down before you start. No headphones? Shift the pitch up, below: the timing stays right, the pitch does not."
        "</p></div>",
        '<noscript><p>Playing needs the page’s scripts, which your browser does not run. The table below says what '
        "each sound is like.</p></noscript>",
        '<div class="needs-script">',
        '<p class="room-status" role="status"></p>',
        '<p class="room-again" hidden><button type="button" data-act="again">Try again</button></p>',
        '<div class="room-places">',
        _place(room, "a", "A"),
        _place(room, "b", "B"),
        "</div>",
        '<p><button type="button" data-act="compare" aria-expanded="false" aria-controls="room-place-b">'
        "Compare with a second sound</button></p>",
        _common(room),
        "</div>",
        _table(room),
        _made(room),
        "</section>",
    ))


def _common(room: Row) -> str:
    """What holds for both places."""
    times = room["pitch"]["shifted"]
    return (
        '<div class="room-common">'
        '<label class="room-check"><input type="checkbox" name="slow"> Half speed, same pitch</label>'
        f'<label class="room-check"><input type="checkbox" name="shifted"> Pitch {times} times higher, for small '
        "speakers</label>"
        '<label class="room-range" for="room-volume"><span>Volume</span>'
        '<input type="range" id="room-volume" name="volume" min="0" max="100" step="5" value="50"></label>'
        "</div>"
    )


def _place(room: Row, key: str, letter: str) -> str:
    """One of the two places in which a sound is chosen, drawn, told and played."""
    rate = room["rate"]
    name = f"room-place-{key}"
    closed = " hidden" if key == "b" else ""
    return "\n".join((
        f'<div class="room-place" id="{name}" role="group" aria-labelledby="{name}-title" data-place="{letter}"'
        f"{closed}>",
        f'<h3 id="{name}-title">Sound {letter}</h3>',
        _select(f"{name}-scene", "scene", "Sound", _scenes(room, "aortic-stenosis" if key == "b" else "normal")),
        f'<p class="room-play"><button type="button" data-act="play">Play {letter}</button>'
        f"<span>{MARK}</span></p>",
        '<canvas class="room-trace" role="img" aria-label="Phonocardiogram: what it shows is told below it">'
        "</canvas>",
        '<p class="room-now" aria-hidden="true">&nbsp;</p>',
        f'<label class="room-range" for="{name}-rate"><span>Heart rate <output for="{name}-rate">{rate["usual"]}'
        f'</output> a minute</span><input type="range" id="{name}-rate" name="rate" min="{rate["least"]}" '
        f'max="{rate["most"]}" step="1" value="{rate["usual"]}"></label>',
        _select(f"{name}-area", "area", "Place on the chest", _options(room["areas"])),
        _select(f"{name}-piece", "piece", "Chest piece", _options(room["pieces"])),
        _select(f"{name}-manoeuvre", "manoeuvre", "Breathing or manoeuvre", _options(room["manoeuvres"])),
        '<ul class="room-caption" aria-label="What sounds when"></ul>',
        "</div>",
    ))


def _select(name: str, field: str, label: str, options: str) -> str:
    return (
        f'<label class="room-select" for="{name}"><span>{label}</span><select id="{name}" name="{field}">{options}'
        "</select></label>"
    )


def _scenes(room: Row, chosen: str) -> str:
    parts, group = [], ""
    for scene in room["scenes"]:
        if scene["group"] != group:
            parts.append(("</optgroup>" if group else "") + f'<optgroup label="{escape(scene["group"])}">')
            group = scene["group"]
        chosen_here = " selected" if scene["id"] == chosen else ""
        area, piece = scene["best"]
        parts.append(
            f'<option value="{scene["id"]}" data-area="{area}" data-piece="{piece}"{chosen_here}>'
            f'{escape(scene["name"])}</option>'
        )
    return "".join(parts) + "</optgroup>"


def _options(rows: list[Row]) -> str:
    labels = [(row["id"], f"{row['name']} ({row['told']})" if "told" in row else row["name"]) for row in rows]
    return "".join(f'<option value="{name}">{escape(label)}</option>' for name, label in labels)


def _table(room: Row) -> str:
    """Every sound in words, with its sources."""
    areas = {row["id"]: row["name"].lower() for row in room["areas"]}
    rows = [
        (
            f'<span id="{anchor(scene["id"])}">{escape(scene["name"])}</span>',
            escape(scene["told"]),
            f"{areas[scene['best'][0]].capitalize()}, {scene['best'][1]}",
            _changes(scene),
            escape(scene["source"], quote=False),
        )
        for scene in room["scenes"]
    ]
    heads = ("Sound", "You hear", "Best at", "Changes", "Rests on")
    # It stands open for a reader without scripts; the page script closes it.
    return (
        '<h2>What each sound is like</h2><details class="room-words" open><summary>All sounds in words, with their '
        f"sources</summary>{table(heads, rows, 'room-table')}</details>"
    )


def _changes(scene: Row) -> str:
    """What makes a murmur louder or softer, in words."""
    parts = []
    for way, word in (("up", "Louder"), ("down", "Softer")):
        doing = [WORDS.get(name, name) for name in scene.get(way, [])]
        if scene.get("breath") == way:
            doing.append("breathing in")
        if doing:
            parts.append(f"<p>{word}: {escape(', '.join(doing))}.</p>")
    return "".join(parts) or "–"


def _made(room: Row) -> str:
    """How the sounds are made, with the sources that hold for all of them."""
    rows = [("Timing", room["rate"]), ("Breathing", room["breath"]), ("Changes in loudness", room["change"])]
    rows += [(row["name"], row) for row in (*room["pieces"], *room["sounds"])]
    items = "".join(
        f"<div><dt>{escape(name)}</dt><dd>{escape(row['source'], quote=False)}</dd></div>" for name, row in rows
    )
    return (
        "<h2>How they are made</h2><p>Python on your device adds up tones and filtered noise. No recording is used. "
        "What is not published is called our choice for teaching: above all how loud each sound is at each place.</p>"
        f'<details><summary>Every number and its source</summary><dl class="facts">{items}</dl></details>'
    )
