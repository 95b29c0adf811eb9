"""The ruler: a scale with ticks, bands told apart by label and pattern, and a marker. It is drawn everywhere.

The picture is 340 units wide, about one CSS pixel each on the narrowest phone, so its 12-unit text stays
readable there. Colours come from the page's style sheet through class names; without one it is plain line work.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from build_tools.figures.svg import element, lines, number, path, picture, text, wrap

WIDTH = 340.0
LEFT, RIGHT = 14.0, 326.0
MARKER_TOP, BAND_TOP, WOOD_TOP, WOOD_BOTTOM = 3.0, 18.0, 38.0, 66.0
CHARACTER = 6.4  # a generous mean width of one character at 12 units
KEY_WIDTH = 50  # characters a line of the key
KEY_STEP = 17.0


@dataclass(frozen=True)
class Band:
    """One stretch of the scale. An end that is None is open and runs to the end of the ruler."""

    label: str
    low: float | None = None
    high: float | None = None


def ruler(
    low: float,
    high: float,
    unit: str,
    *,
    prefix: str,
    title: str,
    description: str,
    bands: list[Band] | None = None,
    marker: float | None = None,
    ticks: list[float] | None = None,
) -> str:
    """Draw a horizontal ruler from `low` to `high` (both in `unit`) as SVG text.

    `ticks` are the numbered marks; without them they are chosen. The marker is always there, as
    `<g class="ruler-marker" data-low data-high data-x0 data-x1>`: a page script moves it by setting
    `transform="translate(x 0)"`, x being linear from data-x0 (at data-low) to data-x1 (at data-high) and kept
    between them. While there is no value the group carries `visibility="hidden"`.
    Raises ValueError when the ends are not in order.
    """
    if not low < high:
        raise ValueError(f"The ruler ends are {low} and {high}: the first must be the lower one. Swap them.")
    scale = _Scale(low, high)
    majors = ticks if ticks is not None else nice_ticks(low, high)
    drawn, names, key = _bands(bands or [], scale)
    foot = WOOD_BOTTOM + (20 if unit else 6)
    rows, height = _key(key, foot + 14) if key else ("", foot)
    return picture(
        WIDTH,
        height,
        element("rect", x=0.5, y=WOOD_TOP, width=WIDTH - 1, height=WOOD_BOTTOM - WOOD_TOP, rx=2,
                class_="ruler-wood", fill="none", stroke="currentColor"),
        drawn,
        # Under the names and numbers, so that it strikes none of them out.
        _marker(marker, scale),
        names,
        _ticks(majors, scale),
        text(RIGHT, WOOD_BOTTOM + 14, unit, class_="ruler-unit", text_anchor="end", font_size=12,
             fill="currentColor") if unit else "",
        rows,
        prefix=prefix,
        title=title,
        description=description,
        class_="ruler",
    )


def nice_ticks(low: float, high: float, most: int = 7) -> list[float]:
    """Choose at most `most` numbered marks between `low` and `high`, a step of 1, 2 or 5 times a power of ten apart."""
    span = high - low
    power = 10.0 ** math.floor(math.log10(span / most))
    for factor in (1, 2, 5, 10, 20):
        step = factor * power
        first = math.ceil(low / step - 1e-9)
        last = math.floor(high / step + 1e-9)
        if last - first + 1 <= most:
            return [round(count * step, 10) for count in range(first, last + 1)]
    raise AssertionError("a step of 20 times the power always fits")


@dataclass(frozen=True)
class _Scale:
    low: float
    high: float

    def x(self, value: float) -> float:
        """Give the horizontal place of a value, kept on the ruler."""
        share = (value - self.low) / (self.high - self.low)
        return LEFT + min(1.0, max(0.0, share)) * (RIGHT - LEFT)


def _ticks(majors: list[float], scale: _Scale) -> str:
    strokes: list[tuple[float, float, float, float]] = []
    labels: list[str] = []
    for value in majors:
        x = scale.x(value)
        strokes.append((x, WOOD_TOP, x, WOOD_TOP + 12))
        labels.append(
            text(x, WOOD_BOTTOM - 4, _shown(value), class_="ruler-number", text_anchor="middle", font_size=12,
                 fill="currentColor")
        )
    if len(majors) > 1:
        step = majors[1] - majors[0]
        # Ten small steps to a numbered one look like a ruler; five where ten would be a grey smear.
        parts = 10 if (RIGHT - LEFT) * step / (scale.high - scale.low) >= 40 else 5
        count = math.ceil((majors[0] - scale.low) / step * parts)
        value = majors[0] - count * step / parts
        index = -count
        while value <= scale.high + 1e-9:
            if value >= scale.low - 1e-9 and index % parts:
                long = 8 if index * 2 % parts == 0 else 5
                strokes.append((scale.x(value), WOOD_TOP, scale.x(value), WOOD_TOP + long))
            index += 1
            value = majors[0] + index * step / parts
    return element("path", d=lines(strokes), class_="ruler-ticks", stroke="currentColor", fill="none") + "".join(labels)


def _shown(value: float) -> str:
    return f"{value:.10f}".rstrip("0").rstrip(".").replace("-", "\N{MINUS SIGN}")


def _bands(bands: list[Band], scale: _Scale) -> tuple[str, str, list[tuple[str, str]]]:
    """Draw the bands; give the drawing, the names to write on it, and the (letter, label) rows of the key when the
    labels do not fit inside."""
    drawn: list[str] = []
    names: list[str] = []
    key: list[tuple[str, str]] = []
    fits = all(len(band.label) * CHARACTER + 8 <= _right(band, scale) - _left(band, scale) for band in bands)
    for index, band in enumerate(bands):
        x0, x1 = _left(band, scale), _right(band, scale)
        drawn.append(
            element("rect", x=x0, y=BAND_TOP, width=x1 - x0, height=WOOD_TOP - BAND_TOP,
                    class_=f"ruler-band ruler-band-{index % 5}", fill="none", stroke="currentColor")
        )
        drawn.append(_pattern(index % 5, x0, x1))
        words = band.label
        if not fits:
            words = chr(ord("A") + index)
            key.append((words, band.label))
        if words:
            names.append(_plate((x0 + x1) / 2, words))
    return "".join(drawn), "".join(names), key


def _left(band: Band, scale: _Scale) -> float:
    return scale.x(scale.low if band.low is None else band.low)


def _right(band: Band, scale: _Scale) -> float:
    return scale.x(scale.high if band.high is None else band.high)


def _pattern(kind: int, x0: float, x1: float) -> str:
    """Fill a band so that neighbours differ without colour: plain, slanting, upright, counter-slanting, level lines."""
    top, bottom = BAND_TOP, WOOD_TOP
    tall = bottom - top
    strokes: list[tuple[float, float, float, float]] = []
    if kind in (1, 3):
        x = x0 - tall + 6
        while x < x1:
            # Each slanting stroke is cut at both ends of the band, so no clip path with an id is needed.
            a, b = max(x, x0), min(x + tall, x1)
            if b > a:
                low, high = bottom - (a - x), bottom - (b - x)
                strokes.append((a, low, b, high) if kind == 1 else (a, top + bottom - low, b, top + bottom - high))
            x += 6
    elif kind == 2:
        x = x0 + 4
        while x < x1:
            strokes.append((x, top, x, bottom))
            x += 4
    elif kind == 4:
        strokes = [(x0, top + step, x1, top + step) for step in (5, 10, 15)]
    if not strokes:
        return ""
    return element("path", d=lines(strokes), class_="ruler-pattern", stroke="currentColor", stroke_width=0.7,
                   fill="none")


def _plate(x: float, words: str) -> str:
    wide = len(words) * CHARACTER + 6
    return element(
        "rect", x=x - wide / 2, y=BAND_TOP + 2.5, width=wide, height=15, class_="ruler-plate", fill="none"
    ) + text(x, BAND_TOP + 14, words, class_="ruler-label", text_anchor="middle", font_size=12, fill="currentColor")


def _key(rows: list[tuple[str, str]], top: float) -> tuple[str, float]:
    """Write the key under the ruler; give it and the height of the whole picture."""
    written: list[str] = []
    y = top
    for letter, label in rows:
        written.append(text(LEFT, y, letter, class_="ruler-letter", font_size=12, fill="currentColor"))
        for line in wrap(label, KEY_WIDTH):
            written.append(text(LEFT + 18, y, line, class_="ruler-label", font_size=12, fill="currentColor"))
            y += KEY_STEP
    return "".join(written), y - KEY_STEP + 8


def _marker(marker: float | None, scale: _Scale) -> str:
    drawn = element("path", d=path((-7, MARKER_TOP), (7, MARKER_TOP), (0, BAND_TOP - 2), close=True),
                    fill="currentColor") + element(
        "path", d=lines([(0, BAND_TOP - 4, 0, WOOD_TOP + 13)]), stroke="currentColor", stroke_width=2
    )
    place = LEFT if marker is None else scale.x(marker)
    return element(
        "g",
        drawn,
        class_="ruler-marker",
        data_low=_plain(scale.low),
        data_high=_plain(scale.high),
        data_x0=LEFT,
        data_x1=RIGHT,
        transform=f"translate({number(place)} 0)",
        visibility="hidden" if marker is None else None,
    )


def _plain(value: float) -> str:
    return repr(float(value))
