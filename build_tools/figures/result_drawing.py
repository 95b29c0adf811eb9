"""The drawing of a result as SVG, for the worked example; web/scripts/drawing.js makes the same in the page."""

from __future__ import annotations

from typing import Any

from build_tools.figures.svg import element, path, text

TICK = 5
# From the frame to the words of a tick, and from a sheet's foot to the name of the axis.
BELOW = 18
BESIDE = 8
FOOT = 8
# Words stand on their line; this lowers them to the middle of a tick.
MIDDLE = 4


def result_drawing(drawing: dict[str, Any], title: str) -> str:
    """Return the picture of a drawing as calculators/drawings.py gives it. title: what it is called aloud."""
    left, top, right, bottom = drawing["frame"]
    across, up = drawing["across"], drawing["up"]
    parts = [element("path", d=path((left, top), (left, bottom), (right, bottom)), class_="drawing-axis")] if up else [
        element("path", d=path((left, bottom), (right, bottom)), class_="drawing-axis")
    ]
    for x, words in across["ticks"]:
        parts.append(element("path", d=path((x, bottom), (x, bottom + TICK)), class_="drawing-axis"))
        parts.append(text(x, bottom + BELOW, words, text_anchor="middle"))
    parts.append(text((left + right) / 2, drawing["height"] - FOOT, across["label"], text_anchor="middle"))
    if up:
        for y, words in up["ticks"]:
            parts.append(element("path", d=path((left - TICK, y), (left, y)), class_="drawing-axis"))
            parts.append(text(left - BESIDE, y + MIDDLE, words, text_anchor="end"))
        parts.append(text(left + BESIDE, top + MIDDLE, up["label"]))
    for kind, x, y, end_x, end_y in drawing["lines"]:
        parts.append(element("path", d=path((x, y), (end_x, end_y)), class_=f"drawing-line drawing-{kind}"))
    for kind, x, y, radius in drawing["points"]:
        parts.append(element("circle", cx=x, cy=y, r=radius, class_=f"drawing-point drawing-{kind}"))
    # What it says stands under it, so the picture need only be named.
    return element(
        "svg", *parts,
        xmlns="http://www.w3.org/2000/svg", viewBox=f"0 0 {drawing['width']} {drawing['height']}",
        class_="result-drawing", role="img", aria_label=title,
    )
