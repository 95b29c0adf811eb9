"""The listening room in every browser there is a driver for: it draws, tells, starts, changes and stops."""

from __future__ import annotations

import pytest

from tests.site.browsers.reader import Reader

pytestmark = pytest.mark.slow

PLACE = '[data-place="A"]'
CAPTION = f"{PLACE} .room-caption"
PLAY = f'{PLACE} [data-act="play"]'
# How much ink stands on the trace.
INK = """
const canvas = document.querySelector(arguments[0]);
const { data } = canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height);
return data.filter((value, place) => place % 4 === 3 && value > 0).length;
"""


def test_plays_a_sound_and_tells_it(reader: Reader, site: str) -> None:
    reader.open(f"{site}learning/listening-room.html#hear-prolapse")
    reader.wait_for_text(CAPTION, "Mitral prolapse at 72 beats a minute", "mid-systolic click")
    reader.wait("return (function () {" + INK + "}).apply(null, arguments) > 3000", f"{PLACE} canvas")
    reader.press(PLAY)
    reader.wait_for_text(".room-status", "Playing A: Mitral prolapse. Synthetic teaching sound.")
    reader.run("""
      const field = document.querySelector(arguments[0]);
      field.value = "standing";
      field.dispatchEvent(new Event("input", { bubbles: true }));
    """, f'{PLACE} [name="manoeuvre"]')
    reader.wait_for_text(CAPTION, "Standing up moves the click and the murmur.")
    reader.press(PLAY)
    reader.wait_for_text(".room-status", "Stopped.")
    assert reader.text(PLAY) == "Play A"
