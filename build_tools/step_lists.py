"""The examination as a list: by region in bedside order, and as a running order with its routes and cautions."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from html import escape
from itertools import groupby
from typing import TYPE_CHECKING

from build_tools.boxes import duration
from build_tools.citations import COMMON_PRACTICE, FROM_MEMORY, LOCAL_SIGN_OFF, MARK, Mark, read_mark, without_marks
from build_tools.citing_pages import LABELS
from build_tools.levels import core_only, level_of, level_word
from build_tools.markup import Writer, strip

if TYPE_CHECKING:
    from build_tools.handbook import Handbook, Page

REGIONS = {
    "preparing": "Before you start",
    "general": "The whole patient",
    "hands": "Hands",
    "arms": "Arms and pulse",
    "face": "Face",
    "neck": "Neck",
    "chest": "Chest",
    "back": "Back",
    "abdomen": "Abdomen",
    "legs": "Legs",
    "closing": "Closing",
    "putting-together": "Putting it together",
    "variations": "When the patient is another",
}
# These follow the examination or change it; they are no part of its running order.
APART = ("putting-together", "variations")
ROUTES = (2, 8, 20)
ORDER_PAGE = "examination/running-order"
# On the running order a sign stands for each label, so that a line keeps to a line.
SIGNS = {LOCAL_SIGN_OFF: "†", COMMON_PRACTICE: "‡", FROM_MEMORY: "§"}


@dataclass(frozen=True)
class Region:
    """A stretch of steps of one region: its id on the page, its words, its steps. A region may come again."""

    id: str
    words: str
    steps: list[Page]


def regions(handbook: Handbook) -> list[Region]:
    """Return the steps in bedside order, cut where the region changes."""
    found: list[Region] = []
    for name, steps in groupby(handbook.of_kind("step"), key=lambda step: str(step.meta.get("region"))):
        before = sum(region.id.startswith(f"region-{name}") for region in found)
        again = f"-{before + 1}" if before else ""
        found.append(Region(f"region-{name}{again}", REGIONS[name] + (", again" if before else ""), list(steps)))
    return found


def steps_html(handbook: Handbook) -> str:
    """Give the steps by region in bedside order, as marks on upright rulers, with level, time and routes."""
    steps = handbook.of_kind("step")
    turns = {step.id: turn for turn, step in enumerate(steps, 1)}
    parts = []
    for region in regions(handbook):
        rows = "".join(_step_row(step, turns[step.id]) for step in region.steps)
        parts.append(
            f'<section data-list-group aria-labelledby="{region.id}"><h2 id="{region.id}">{region.words}</h2>\n'
            f'<ol class="steps" start="{turns[region.steps[0].id]}">\n{rows}\n</ol></section>'
        )
    return (
        f'<div data-list data-search-exclude>\n<form class="filter needs-script" data-list-form>{core_only(steps)}'
        f'<p class="search-count" role="status" data-list-count></p></form>\n'
        f"{_ways(regions(handbook))}" + "\n".join(parts)
        + "\n</div>"
    )


def _ways(found: list[Region]) -> str:
    return strip("Regions", [f'<li><a href="#{region.id}">{region.words}</a></li>' for region in found])


def _step_row(step: Page, turn: int) -> str:
    told = [level_word(step), duration(int(step.meta.get("seconds") or 0)), routes_marks(step)]
    return (
        f'<li data-level="{level_of(step)}" data-turn="{turn}">'
        f'<a href="{step.slug}.html">{escape(step.title)}</a>'
        f'<span class="list-about">{escape(without_marks(str(step.meta.get("short", ""))))}</span>'
        f'<span class="list-facts">{" · ".join(part for part in told if part)}</span></li>'
    )


def routes_marks(step: Page) -> str:
    """Return the routes that a step belongs to, each as a mark to be seen at a glance."""
    routes = "".join(f" <b>{route}</b>" for route in step.listed("routes"))
    return f'<span class="routes">in{routes} min</span>' if routes else ""


def running_order_html(handbook: Handbook) -> str:
    """Give the short form of every step in bedside order with its first caution; marks stay for the page to number.

    A route is chosen by radio buttons that a style sheet reads, so it needs no script and prints as it is chosen.
    """
    writer = Writer(handbook, handbook.pages[ORDER_PAGE])
    found = regions(handbook)
    within = [region for region in found if region.steps[0].meta.get("region") not in APART]
    apart = [region for region in found if region.steps[0].meta.get("region") in APART]
    parts = "\n".join(_order_region(writer, region) for region in within)
    after = "\n".join(_order_region(writer, region) for region in apart)
    states = {state for step in handbook.of_kind("step") for mark in _stop_marks(step) for state in mark.states}
    legend = "".join(
        f"<div><dt>{SIGNS[state]}</dt><dd>{LABELS[state][1]}: {LABELS[state][2]}</dd></div>"
        for state in SIGNS
        if state in states
    )
    return (
        f'<div class="running-order" data-search-exclude>\n{_routes_form(handbook)}\n{_ways(found)}'
        f'<div class="order-columns">\n'
        f'{parts}\n<div class="order-apart">\n{after}\n</div></div>\n<dl class="mark-meanings">{legend}</dl>\n</div>'
    )


def _routes_form(handbook: Handbook) -> str:
    steps = [step for step in handbook.of_kind("step") if step.meta.get("region") not in APART]
    choices = ['<label><input type="radio" name="route" id="route-all" checked><span>Everything</span></label>']
    told = [f'<p class="route-told route-all">{_told(steps, "Everything at the bedside")}</p>']
    for route in ROUTES:
        choices.append(
            f'<label><input type="radio" name="route" id="route-{route}"><span>{route} minutes</span></label>'
        )
        chosen = [step for step in handbook.of_kind("step") if route in step.listed("routes")]
        told.append(f'<p class="route-told route-{route}">{_told(chosen, f"The route of {route} minutes")}</p>')
    return (
        f'<fieldset class="choices"><legend class="aside-words">Route</legend>{"".join(choices)}</fieldset>\n'
        + "\n".join(told)
    )


def _told(steps: list[Page], name: str) -> str:
    """Return how long the steps of a route take by our own estimate, done in full."""
    minutes = round(sum(int(step.meta.get("seconds") or 0) for step in steps) / 60)
    return f"<strong>{name}:</strong> {len(steps)} steps. Done in full they add up to about {minutes} minutes."


def _order_region(writer: Writer, region: Region) -> str:
    rows = "".join(_order_row(writer, step) for step in region.steps)
    routes = sorted({route for step in region.steps for route in step.listed("routes")})
    return (
        f'<section data-routes="{" ".join(map(str, routes))}" aria-labelledby="{region.id}">'
        f'<h2 id="{region.id}">{region.words}</h2>\n<ol class="order">{rows}</ol></section>'
    )


def _order_row(writer: Writer, step: Page) -> str:
    routes = " ".join(map(str, step.listed("routes")))
    facts = f"{duration(int(step.meta['seconds']))} {routes_marks(step)}".strip()
    stop = MARK.sub(lambda found: _with_signs(read_mark(found.group(1))), str(step.meta["summary"]["stop"]))
    return (
        f'<li data-routes="{routes}"><p>{writer.link(step)} <span class="list-facts">{facts}</span></p>'
        f"<p>{writer.text(without_marks(str(step.meta['short'])))}</p>"
        f'<p class="order-stop"><b>Stop:</b> {writer.text(stop)}</p></li>'
    )


def _stop_marks(step: Page) -> Iterator[Mark]:
    return (read_mark(found.group(1)) for found in MARK.finditer(str(step.meta["summary"]["stop"])))


def _with_signs(mark: Mark) -> str:
    """Return a mark with a sign in place of each label it declares; the works it names stay."""
    works = re.sub(rf"\s*;?\s*\b({'|'.join(SIGNS)})\b\s*;?\s*", "", mark.text) if mark.uses else ""
    return "".join(SIGNS[state] for state in mark.states) + (f" [{works}]" if works else "")
