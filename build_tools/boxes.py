"""The boxes that pages carry: the first three lines of a step, facts in short, red flags, the ways on."""

from __future__ import annotations

from html import escape
from typing import Any

from build_tools import likelihoods, values
from build_tools.citations import marks_in
from build_tools.handbook import Page
from build_tools.markup import VALUES_PAGE, Writer, facts, listed

SPEED_WORDS = {
    "now": "now",
    "within the hour": "within the hour",
    "same day": "the same day",
    "within two weeks": "within two weeks",
}


def summary(writer: Writer, step: Page) -> str:
    """Return the box that answers first: do, normal, stop."""
    rows = "".join(
        f'<div class="{key}"><dt>{key.capitalize()}</dt><dd>{writer.text(step.meta["summary"][key])}</dd></div>'
        for key in ("do", "normal", "stop")
    )
    return f'<dl class="summary">{rows}</dl>'


def duration(seconds: int) -> str:
    """Return a time for planning: "about 40 s", "about 4 min"."""
    return f"about {seconds} s" if seconds < 60 else f"about {round(seconds / 30) / 2:g} min"


def step_facts(writer: Writer, step: Page) -> str:
    """Return level, position, time and routes of a step."""
    routes = [str(route) for route in step.listed("routes")]
    told = " and ".join([", ".join(routes[:-1]), routes[-1]] if len(routes) > 1 else routes)
    return facts(
        [
            ("Position", writer.text(step.meta["position"])),
            ("Time", f"{duration(step.meta['seconds'])}, our own estimate"),
            ("In the route of", f"{told} minutes" if told else ""),
            ("Calculators", listed(map(writer.calculator, step.listed("measures")))),
        ]
    )


def finding_facts(writer: Writer, finding: Page) -> str:
    """Return where a finding is looked for, and what it can be measured by."""
    reckoned = [*finding.listed("measures"), *likelihoods.calculators_of(writer.handbook, finding.slug)]
    return facts(
        [
            ("Looked for in", listed(writer.link_to("step", slug) for slug in finding.listed("steps"))),
            ("Calculators", listed(map(writer.calculator, dict.fromkeys(reckoned)))),
            ("Normal values", _values(writer, finding)),
        ]
    )


def condition_facts(writer: Writer, condition: Page) -> str:
    """Return the steps that look for a condition's signs, its calculators and its normal values."""
    steps = {
        step.id: step
        for finding, _ in writer.handbook.signs_of(condition.slug)
        for step in writer.handbook.steps_of(finding.slug)
    }
    ordered = [step for step in writer.handbook.of_kind("step") if step.id in steps]
    return facts(
        [
            ("Looked for in", listed(map(writer.link, ordered))),
            ("Calculators", listed(map(writer.calculator, condition.listed("measures")))),
            ("Normal values", _values(writer, condition)),
        ]
    )


def calculators_facts(writer: Writer, page: Page) -> str:
    """Return what leads to the calculators of a page: steps, findings and conditions."""
    users = {user.id: user for name in page.listed("calculators") for user in writer.handbook.measured_on(name)}
    steps = list(page.listed("steps"))
    steps += [user.slug for user in users.values() if user.kind == "step" and user.slug not in steps]
    others = sorted((user for user in users.values() if user.kind != "step"), key=lambda user: user.title.casefold())
    return facts(
        [
            ("Measured in", listed(writer.link_to("step", slug) for slug in steps)),
            ("Used for", listed(map(writer.link, others))),
        ]
    )


def _values(writer: Writer, page: Page) -> str:
    """Return the normal values a page names, each linked to its row."""
    items = []
    for name in page.listed("values"):
        row = writer.handbook.values.get(name) or writer.handbook.tables.get(name)
        if row:
            words = writer.text(row.get("quantity") or row["title"])
            step = writer.handbook.page("step", row["step"])
            if name in writer.handbook.values and VALUES_PAGE in writer.handbook.pages:
                items.append(f'<a href="{escape(writer.address(VALUES_PAGE, f"value-{name}"))}">{words}</a>')
            elif step:
                items.append(f'<a href="{escape(writer.address(step.id, "normal"))}">{words}</a>')
    return listed(items)


def red_flag(writer: Writer, name: str) -> str:
    """Return a red flag as a Get help box: how fast, what is seen, why, and what to do."""
    row: dict[str, Any] = writer.handbook.red_flags[name]
    title = f'<span class="grade">Get help {SPEED_WORDS[row["speed"]]}:</span> {writer.text(row["what"])}'
    note = f'<p class="note">{writer.text(row["note"])}</p>' if row.get("note") else ""
    seen = f'<span class="seen">{values.SEEN[row["checked"]]}</span>'
    told = {key for text in (row["why"], row["act"]) for mark in marks_in(text) for key in mark.keys}
    source = "" if row.get("source") in told else f" {writer.mark(row)}"
    return (
        f'<div class="admonition get-help red-flag" data-red-flag="{name}"><p class="admonition-title">{title}</p>'
        f'<p class="act">{writer.text(row["act"])}</p><p>{writer.text(row["why"])}{source} {seen}</p>'
        f"{note}</div>"
    )


def step_record(writer: Writer, step: Page) -> str:
    """Return the phrase for a normal result."""
    return facts([("If all is normal", f'<span class="record">{writer.text(step.meta["record"])}</span>')])


def finding_record(writer: Writer, finding: Page) -> str:
    """Return how the record says that a finding is there, and that it is not."""
    side = ", right or left" if finding.meta.get("sides") else ""
    return facts(
        [
            ("Write down", f'<span class="record">{writer.text(finding.meta["present"])}</span>{side}'),
            ("If absent", f'<span class="record">{writer.text(finding.meta["absent"])}</span>'),
        ]
    )
