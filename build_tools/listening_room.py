"""The listening room as static HTML: what it does and when each sound is heard; the page script makes it play."""
from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from build_tools.handbook import Handbook


def html(handbook: Handbook) -> str:
    """Give the place on a page where heart sounds are made. Playing needs the page's script."""
    return (
        '<section class="laboratory" data-laboratory="listening_room" aria-labelledby="listening-room-title">'
        '<h3 id="listening-room-title">Synthetic teaching sound</h3>'
        "<noscript><p>Playing needs the page’s scripts, which your browser does not run.</p></noscript>"
        "</section>"
    )
