"""Small helpers that write SVG elements as text, always the same text for the same picture."""

from __future__ import annotations

from html import escape


def number(value: float) -> str:
    """Write a coordinate with at most two decimals, without a trailing zero or a negative zero."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def element(name: str, *children: str, **attributes: str | float | None) -> str:
    """Write one element.

    Attribute names are given in Python form: a trailing underscore is dropped (`class_`), other underscores
    become hyphens (`text_anchor`). An attribute that is None is left out. Children are markup, not text.
    """
    written = []
    for key, value in attributes.items():
        if value is None:
            continue
        shown = value if isinstance(value, str) else number(value)
        written.append(f' {key.rstrip("_").replace("_", "-")}="{escape(shown)}"')
    inside = "".join(children)
    return f"<{name}{''.join(written)}>{inside}</{name}>" if inside else f"<{name}{''.join(written)}/>"


def text(x: float, y: float, words: str, **attributes: str | float | None) -> str:
    """Write a text element with its words escaped."""
    return element("text", escape(words, quote=False), x=x, y=y, **attributes)


def path(*points: tuple[float, float], close: bool = False) -> str:
    """Give the `d` of a path of straight lines through the points."""
    steps = [f"{'M' if index == 0 else 'L'}{number(x)} {number(y)}" for index, (x, y) in enumerate(points)]
    return "".join(steps) + ("Z" if close else "")


def lines(segments: list[tuple[float, float, float, float]]) -> str:
    """Give the `d` of a path of separate straight strokes, each (x1, y1, x2, y2)."""
    return "".join(f"M{number(a)} {number(b)}L{number(c)} {number(d)}" for a, b, c, d in segments)


def wrap(words: str, width: int) -> list[str]:
    """Break words into lines of at most `width` characters; a longer word stands alone on its line."""
    rows: list[str] = []
    for word in words.split():
        if rows and len(rows[-1]) + 1 + len(word) <= width:
            rows[-1] += " " + word
        else:
            rows.append(word)
    return rows


def picture(
    width: float, height: float, *children: str, prefix: str, title: str, description: str, class_: str
) -> str:
    """Wrap children as a picture that a screen reader announces by its title and description.

    `prefix` makes the two ids unique on the page.
    """
    heading = element("title", escape(title, quote=False), id=f"{prefix}-title")
    words = element("desc", escape(description, quote=False), id=f"{prefix}-description")
    return element(
        "svg",
        heading,
        words,
        *children,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {number(width)} {number(height)}",
        class_=class_,
        role="img",
        aria_labelledby=f"{prefix}-title {prefix}-description",
    )


def smooth(points: list[tuple[float, float]], close: bool = False) -> str:
    """Give the `d` of a smooth path through the points (a Catmull-Rom spline written as Bezier curves)."""
    count = len(points)
    steps = [f"M{number(points[0][0])} {number(points[0][1])}"]
    for index in range(count if close else count - 1):
        before, start, end, after = (points[_within(index + shift, count, close)] for shift in (-1, 0, 1, 2))
        first = (start[0] + (end[0] - before[0]) / 6, start[1] + (end[1] - before[1]) / 6)
        second = (end[0] - (after[0] - start[0]) / 6, end[1] - (after[1] - start[1]) / 6)
        steps.append("C" + " ".join(f"{number(x)} {number(y)}" for x, y in (first, second, end)))
    return "".join(steps) + ("Z" if close else "")


def _within(index: int, count: int, close: bool) -> int:
    return index % count if close else min(max(index, 0), count - 1)
