"""Ways through the site: no page is a dead end, and what belongs together is one tap apart, there and back."""

from __future__ import annotations

import posixpath
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote

import pytest

from build_tools import handbook
from build_tools.environment import ROOT
from tests.site.conftest import PHONE, Opener
from tests.site.pages import all_pages

BOOK = handbook.load(ROOT, unread_ok=True)
SCREENS = 5
# How many taps from the first page may lead to any other.
TAPS = 3


class Links(HTMLParser):
    """The addresses that a page leads to: those in its text and to the steps beside it, and all."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self.folder = posixpath.dirname(name)
        self.own: set[str] = set()
        self.every: set[str] = set()
        self.ids: set[str] = set()
        self._inside = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        # Articles may hold articles: the results of a calculator.
        if tag == "article" or (tag == "nav" and (self._inside or given.get("class") == "turn")):
            self._inside += 1
        if given.get("id"):
            self.ids.add(given["id"] or "")
        if tag == "a" and given.get("href"):
            path, _, anchor = unquote(given["href"] or "").partition("#")
            if path:
                target = posixpath.normpath(posixpath.join(self.folder, path)) + (f"#{anchor}" if anchor else "")
                self.every.add(target)
                if self._inside:
                    self.own.add(target)

    def handle_endtag(self, tag: str) -> None:
        if self._inside and tag in ("article", "nav"):
            self._inside -= 1


@pytest.fixture(scope="module")
def links(built_site: Path) -> dict[str, Links]:
    found = {}
    for name in all_pages(built_site):
        found[name] = Links(name)
        found[name].feed((built_site / name).read_text(encoding="utf-8"))
    return found


def address(kind: str, slug: str) -> str:
    return f"{handbook.FOLDERS[kind]}/{slug}.html"


def calculator_page(name: str) -> str:
    (page, *_) = BOOK.pages_of_calculator(name)
    return f"{page.id}.html#calculator-{name.replace('_', '-')}"


def without_anchors(targets: set[str]) -> set[str]:
    return {target.partition("#")[0] for target in targets}


def test_a_finding_and_what_belongs_to_it_are_one_tap_apart(links: dict[str, Links]) -> None:
    """Its steps, conditions, values and calculators, from the finding and back to it."""
    missing = []
    for finding in BOOK.of_kind("finding"):
        here = f"{finding.id}.html"
        steps = {address("step", slug) for slug in finding.listed("steps")}
        conditions = {address("condition", entry["condition"]) for entry in finding.listed("points_to")}
        calculators = {calculator_page(name) for name in finding.listed("measures")}
        values = {f"values/index.html#value-{name}" for name in finding.listed("values") if name in BOOK.values}
        assert steps, here
        missing += [(here, target) for target in (steps | conditions | calculators | values) - links[here].own]
        back = steps | conditions | without_anchors(calculators)
        missing += [(source, here) for source in back if here not in without_anchors(links[source].own)]
    assert missing == []


def test_a_value_leads_to_its_step_and_the_step_to_the_value(links: dict[str, Links]) -> None:
    values = links["values/index.html"]
    assert {address("step", row["step"]) for row in BOOK.values.values()} <= without_anchors(values.own)
    assert {f"value-{name}" for name in BOOK.values} <= values.ids
    quoted = {target for name, page in links.items() if name.startswith("examination/") for target in page.own}
    named = {name for step in BOOK.of_kind("step") for name in step.listed("values")}
    assert named and quoted


def test_conditions_steps_and_calculators_lead_to_each_other(links: dict[str, Links]) -> None:
    missing = []
    for condition in BOOK.of_kind("condition"):
        here = f"{condition.id}.html"
        for finding, _ in BOOK.signs_of(condition.slug):
            for step in BOOK.steps_of(finding.slug):
                if f"{step.id}.html" not in without_anchors(links[here].own):
                    missing.append((here, step.id))
    for page in BOOK.of_kind("calculators"):
        here = f"{page.id}.html"
        for name in page.listed("calculators"):
            for user in BOOK.measured_on(name):
                if f"{user.id}.html" not in without_anchors(links[here].own):
                    missing.append((here, user.id))
                if calculator_page(name) not in links[f"{user.id}.html"].own:
                    missing.append((user.id, name))
    assert missing == []


def test_every_link_leads_to_a_page_and_a_place_on_it(links: dict[str, Links], built_site: Path) -> None:
    broken = []
    for name, page in links.items():
        for target in page.every:
            path, _, anchor = target.partition("#")
            known = links.get(path)
            there = not anchor or anchor in known.ids if known else (built_site / path).is_file()
            if not there:
                broken.append((name, target))
    assert broken == []


def test_no_page_is_a_dead_end_or_out_of_reach(links: dict[str, Links]) -> None:
    """Each page's own text leads on to another, and a few taps from the first page lead to each."""
    plain = {"about/notices.html"}
    assert [name for name, page in links.items() if not without_anchors(page.own) - {name} and name not in plain] == []
    reached, edge = {"index.html"}, {"index.html"}
    for _ in range(TAPS):
        edge = {target for name in edge for target in without_anchors(links[name].every) if target in links} - reached
        reached |= edge
    assert set(links) - reached == set()


def test_every_page_says_where_it_belongs(links: dict[str, Links]) -> None:
    for name, page in links.items():
        folder = posixpath.dirname(name)
        index = f"{folder}/index.html"
        assert name == "index.html" or "index.html" in page.every, name
        assert not folder or name == index or index in page.every, name


@pytest.mark.slow
def test_a_page_of_many_screens_shows_what_is_on_it(open_page: Opener, address: str, built_site: Path) -> None:
    """Over five screens of a phone, a page opens with the list of its parts."""
    page = open_page(f"{address}index.html")
    bare = {}
    for name in all_pages(built_site):
        page.goto(address + name)
        screens = page.evaluate("document.querySelector('article').getBoundingClientRect().height") / PHONE["height"]
        if screens > SCREENS and not page.locator(".on-this-page a:visible").count():
            bare[name] = round(screens, 1)
    assert bare == {}
