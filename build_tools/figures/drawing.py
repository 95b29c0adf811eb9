"""Parts that several drawings share: limbs, labels with leaders, numbered points."""

from __future__ import annotations

from build_tools.figures.svg import element, lines, path, text

Point = tuple[float, float]


def limb(points: list[Point], width: float) -> str:
    """Draw a rounded limb through the points: an outline, and the body's tone inside it."""
    line = path(*points)
    return element("path", d=line, class_="drawn-edge", fill="none", stroke="currentColor", stroke_width=width,
                   stroke_linecap="round", stroke_linejoin="round") + element(
        "path", d=line, class_="drawn-limb", fill="none", stroke="#fff", stroke_width=width - 2.4,
        stroke_linecap="round", stroke_linejoin="round")


def body(shape: str) -> str:
    """Draw a closed outline filled with the body's tone."""
    return element("path", d=shape, class_="drawn-body", fill="none", stroke="currentColor", stroke_width=1.4,
                   stroke_linejoin="round")


def stroke(*points: Point, width: float = 1.4, dashed: bool = False, class_: str | None = None) -> str:
    """Draw a straight line through the points."""
    return element("path", d=path(*points), fill="none", stroke="currentColor", stroke_width=width,
                   stroke_linecap="round", stroke_dasharray="5 4" if dashed else None, class_=class_)


def label(at: Point, words: str, anchor: str = "start", bold: bool = False, class_: str | None = None) -> str:
    """Write words; `at` is their start, middle or end on the base line, by `anchor`. A new line follows each "|"."""
    return "".join(
        text(at[0], at[1] + 14 * row, part, text_anchor=None if anchor == "start" else anchor, font_size=12,
             font_weight="700" if bold else None, class_=class_, fill="currentColor")
        for row, part in enumerate(words.split("|"))
    )


def leader(start: Point, end: Point) -> str:
    """Draw a thin line from a label to what it names."""
    return element("path", d=lines([(*start, *end)]), class_="drawn-soft", stroke="currentColor", stroke_width=0.9,
                   fill="none")


def spot(at: Point, radius: float = 5) -> str:
    """Mark a place on the body in the accent."""
    return element("circle", cx=at[0], cy=at[1], r=radius, class_="drawn-accent drawn-spot", fill="currentColor",
                   stroke="#fff", stroke_width=1.4)
