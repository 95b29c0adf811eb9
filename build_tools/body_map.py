"""The body map: a body whose parts lead to their steps, findings and normal values, and the same links as a list.

The page of regions holds one section a region; the home page shows the map and the list that lead there. The drawing
is for the hand: keyboard and screen reader take the list, so the drawing's links are left out for them.
"""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING

from build_tools.figures.svg import element, path, smooth
from build_tools.markup import strip

if TYPE_CHECKING:
    from build_tools.handbook import Handbook, Page

Point = tuple[float, float]
PAGE = "by-region"

# Region of the steps' front matter, and its name for the reader, from the head down.
REGIONS = {
    "general": "Whole patient",
    "face": "Face and eyes",
    "neck": "Neck",
    "chest": "Chest",
    "back": "Back",
    "arms": "Arms and pulse",
    "hands": "Hands",
    "abdomen": "Abdomen",
    "legs": "Legs and feet",
}

# Each part as points from the midline; a part with `pair` stands on both sides.
MIDLINE = 110.0
PARTS: tuple[tuple[str, bool, list[Point]], ...] = (
    ("face", False, [(0, 14), (17, 21), (22, 40), (17, 58), (0, 70), (-17, 58), (-22, 40), (-17, 21)]),
    ("neck", False, [(-10, 68), (10, 68), (12, 82), (38, 95), (-38, 95), (-12, 82)]),
    ("chest", False, [(-38, 99), (0, 98), (38, 99), (42, 106), (43, 130), (39, 156), (34, 163), (0, 164), (-34, 163),
                      (-39, 156), (-43, 130), (-42, 106)]),
    ("abdomen", False, [(-34, 168), (0, 168), (34, 168), (37, 174), (37, 198), (43, 230), (38, 236), (8, 250),
                        (-8, 250), (-38, 236), (-43, 230), (-37, 198), (-37, 174)]),
    ("arms", True, [(44, 99), (54, 108), (59, 130), (68, 164), (82, 200), (91, 226), (80, 231), (66, 198), (54, 168),
                    (46, 132)]),
    ("hands", True, [(80, 235), (92, 230), (102, 254), (98, 272), (87, 268), (82, 250)]),
    ("legs", True, [(43, 241), (45, 266), (38, 318), (39, 348), (28, 402), (34, 424), (26, 436), (12, 432), (12, 402),
                    (11, 350), (9, 318), (5, 256)]),
)
STRAIGHT = {"neck"}  # parts whose corners stay corners
SMALL = {"face", "neck", "hands"}  # parts that a thumb would miss: an unseen rim round them leads there too


def map_html(handbook: Handbook) -> str:
    """Give the map and the list of regions, for the home page."""
    return _map(handbook, f"{PAGE}.html")


def regions_html(handbook: Handbook) -> str:
    """Give the map, then each region with its steps, findings and normal values, for the page of regions."""
    sections = "\n".join(_section(handbook, region, name) for region, name in REGIONS.items())
    ways = [f'<li><a href="#region-{region}">{escape(name, quote=False)}</a></li>' for region, name in REGIONS.items()]
    return f'<div data-search-exclude>\n{strip("Regions", ways)}{_map(handbook, "")}\n{sections}\n</div>'


def _steps(handbook: Handbook, region: str) -> list[Page]:
    return [step for step in handbook.of_kind("step") if step.meta.get("region") == region]


def _findings(handbook: Handbook, region: str) -> list[Page]:
    slugs = {slug for step in _steps(handbook, region) for slug in step.listed("findings")}
    return [finding for finding in handbook.of_kind("finding") if finding.slug in slugs]


def _values(handbook: Handbook, region: str) -> list[tuple[str, str]]:
    """Give (id, words) of the normal values of a region; one row a quantity and group of people."""
    slugs = {step.slug for step in _steps(handbook, region)}
    return [
        (name, ", ".join(str(row[key]) for key in ("quantity", "who") if row.get(key)))
        for name, row in handbook.values.items()
        if row.get("step") in slugs
    ]


def _counted(count: int, one: str) -> str:
    return f"{count} {one}" if count == 1 else f"{count} {one}s"


def _map(handbook: Handbook, page: str) -> str:
    shapes = []
    for region, pair, points in PARTS:
        name = element("title", escape(REGIONS[region], quote=False))
        sides = (1, -1) if pair else (1,)
        drawn = "".join(_part(region, [(MIDLINE + side * x, y) for x, y in points]) for side in sides)
        # Out of the order of the tab key: the list beside it holds the same links.
        shapes.append(element("a", name, drawn, href=f"{page}#region-{region}", tabindex="-1", class_="body-part"))
    figure = element("svg", *shapes, xmlns="http://www.w3.org/2000/svg", viewBox="0 0 220 446", class_="body-drawing",
                     aria_hidden="true")
    rows = "".join(
        f'<li><a href="{page}#region-{region}">{escape(name, quote=False)}</a><span class="list-about">'
        f'{_counted(len(_steps(handbook, region)), "step")}, {_counted(len(_findings(handbook, region)), "finding")}'
        "</span></li>"
        for region, name in REGIONS.items()
    )
    return f'<nav class="body-map" aria-label="Body map" data-search-exclude>{figure}<ul>{rows}</ul></nav>'


def _part(region: str, points: list[Point]) -> str:
    d = path(*points, close=True) if region in STRAIGHT else smooth(points, close=True)
    rim = element("path", d=d, stroke_width=26, class_="body-rim") if region in SMALL else ""
    return rim + element("path", d=d, fill="none", stroke="currentColor", stroke_width=1.4, stroke_linejoin="round")


def _section(handbook: Handbook, region: str, name: str) -> str:
    steps = "".join(
        f'<li><a href="examination/{step.slug}.html">{escape(step.title, quote=False)}</a></li>'
        for step in _steps(handbook, region)
    )
    findings = "".join(
        f'<li><a href="findings/{finding.slug}.html">{escape(finding.title, quote=False)}</a></li>'
        for finding in _findings(handbook, region)
    )
    values = "".join(
        f'<li><a href="values/index.html#value-{name_of}">{escape(words, quote=False)}</a></li>'
        for name_of, words in _values(handbook, region)
    )
    count = len(_values(handbook, region))
    told = f"<summary>{_counted(count, 'normal value')}</summary>"
    folded = f'<details>{told}<ul class="region-values">{values}</ul></details>' if count else ""
    listed = f'<h3>Findings</h3><ul class="region-findings">{findings}</ul>' if findings else ""
    return (
        f'<section class="region" aria-labelledby="region-{region}"><h2 id="region-{region}">'
        f"{escape(name, quote=False)}</h2><h3>Steps</h3><ul>{steps}</ul>{listed}{folded}</section>"
    )
