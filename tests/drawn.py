"""Reading drawings back: what stands in an SVG under a class name."""

from __future__ import annotations

import re
from xml.etree import ElementTree

SVG = "{http://www.w3.org/2000/svg}"
Point = tuple[float, float]


def strokes(picture: str, name: str) -> list[list[Point]]:
    """Give the points of each path of straight lines with a class name."""
    return [
        [(float(x), float(y)) for x, y in re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", one.get("d") or "")]
        for one in ElementTree.fromstring(picture).iter(f"{SVG}path")
        if name in (one.get("class") or "").split()
    ]


def discs(picture: str, name: str) -> list[tuple[float, float, float]]:
    """Give centre and radius of each circle with a class name."""
    return [
        (float(one.get("cx") or 0), float(one.get("cy") or 0), float(one.get("r") or 0))
        for one in ElementTree.fromstring(picture).iter(f"{SVG}circle")
        if name in (one.get("class") or "").split()
    ]


def nodes(way: str) -> list[Point]:
    """Give the nodes of the `d` of a smooth path."""
    numbers = [float(one) for one in re.findall(r"-?[\d.]+", way)]
    pairs = list(zip(numbers[::2], numbers[1::2], strict=True))
    return pairs[:1] + pairs[3::3]
