"""Navigation: steps, articles and pages of calculators stand in it, findings and conditions are found otherwise."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import TYPE_CHECKING

from build_tools.problems import Problem

if TYPE_CHECKING:
    from build_tools.handbook import Handbook

SETTINGS = "mkdocs.yml"
# Reached by their A–Z page, by tables and by search, so that a page's size does not grow with their number.
OUTSIDE = ("finding", "condition")
FOLDER_OF = {"step": "examination", "finding": "findings", "condition": "conditions", "calculators": "calculators"}


def check(handbook: Handbook) -> Iterator[Problem]:
    """Yield pages outside the navigation, entries without a page, steps out of order, pages in a wrong folder."""
    for name, line in handbook.navigation.items():
        page = handbook.pages.get(name)
        if page is None:
            yield Problem(
                SETTINGS,
                line,
                f'the navigation names "{name}.md", which is not there',
                f"add content/{name}.md, or remove the entry",
            )
        elif page.kind in OUTSIDE:
            yield Problem(
                SETTINGS,
                line,
                f'the navigation names the {page.kind} "{name}.md"',
                "remove the entry: findings and conditions are reached by their A–Z page",
            )
    for page in handbook.pages.values():
        folder = FOLDER_OF.get(page.kind)
        if folder and page.id.rpartition("/")[0] != folder:
            yield Problem(
                page.file,
                page.line("kind"),
                f"a {page.kind} page does not lie in content/{folder}/",
                "move it there, or correct kind",
            )
        if page.id not in handbook.navigation and page.kind not in OUTSIDE and not page.is_draft:
            yield Problem(
                page.file, 1, "the page is not in the navigation", f"add {page.id}.md under nav in {SETTINGS}"
            )
    listed = [page for name in handbook.navigation if (page := handbook.pages.get(name)) and page.kind == "step"]
    orders: dict[int, str] = {}
    for page in handbook.of_kind("step"):
        order = page.meta.get("order")
        if isinstance(order, int):
            if order in orders:
                yield Problem(
                    page.file,
                    page.line("order"),
                    f"the order {order} is taken by {orders[order]}",
                    "choose a free number between its neighbours",
                )
            orders.setdefault(order, page.id)
    for before, after in pairwise(listed):
        if (
            isinstance(before.meta.get("order"), int)
            and isinstance(after.meta.get("order"), int)
            and before.meta["order"] > after.meta["order"]
        ):
            yield Problem(
                SETTINGS,
                handbook.navigation[after.id],
                f'"{after.id}.md" (order {after.meta["order"]}) stands after "{before.id}.md" '
                f"(order {before.meta['order']})",
                "put the steps in the order of their pages",
            )
