"""The tables that pages do not write themselves: made from findings, conditions and data files."""

from __future__ import annotations

from decimal import Decimal
from html import escape
from typing import Any

from build_tools import values
from build_tools.checks.strength import deciding_ratio
from build_tools.handbook import STRENGTHS, Page
from build_tools.markup import Writer, listed, table

STRENGTH_WORDS = {
    "strong": "strong",
    "moderate": "moderate",
    "weak": "weak",
    "little": "little use",
    "taught": "taught, no ratio",
}


def strength(word: str) -> str:
    """Return a strength as a label that says it in words."""
    return f'<span class="strength strength-{word}">{STRENGTH_WORDS.get(word, escape(word))}</span>'


def judged(entry: dict[str, Any]) -> str:
    """Return the strength of an entry, with a word of doubt where chance alone may have made it."""
    decided = deciding_ratio(entry)
    limits = entry.get(f"{decided[0]}_ci") if decided else None
    doubt = '<p class="note">uncertain: the interval includes 1</p>' if limits and limits[0] <= 1 <= limits[1] else ""
    return strength(entry["strength"]) + doubt


def direction(entry: dict[str, Any]) -> str:
    """Return in words what its presence or absence does to the probability of the condition."""
    if entry.get("direction") == "for":
        return "present: more likely"
    decided = deciding_ratio(entry)
    if decided and decided[0] == "lr_neg":
        return "absent: less likely"
    return "present: less likely" if decided else "less likely"


def figures(entry: dict[str, Any]) -> str:
    """Return likelihood ratios with their intervals, and sensitivity and specificity in per cent."""
    parts = []
    for key, name in (("lr_pos", "LR+"), ("lr_neg", "LR−")):
        if key in entry:
            parts.append(f"{name} {values.digits(entry[key])}{_interval(entry.get(f'{key}_ci'))}")
    for key, name in (("sens", "sensitivity"), ("spec", "specificity")):
        if key in entry:
            parts.append(f"{name} {_per_cent(entry[key])}")
    return "<br>".join(f"<span>{part}</span>" for part in parts)


def _interval(limits: Any) -> str:
    return f" ({values.digits(limits[0])} to {values.digits(limits[1])})" if limits else ""


def _per_cent(fraction: Any) -> str:
    return f"{(Decimal(values.digits(fraction)) * 100).normalize():f}%"


def _studied(writer: Writer, entry: dict[str, Any]) -> str:
    """Return what was tested for and in whom, with what has to be known about the figure."""
    parts = [writer.text(entry[key]) for key in ("target", "population", "note") if entry.get(key)]
    return (
        "; ".join(parts[:2]) + (f'<p class="note">{parts[2]}</p>' if len(parts) > 2 else "")
        if entry.get("target") and entry.get("population")
        else "; ".join(parts)
    )


def points_to(writer: Writer, finding: Page) -> str:
    """Return what a finding points to, one row an entry, strongest first."""
    entries = sorted(
        finding.listed("points_to"), key=lambda entry: (entry["direction"] != "for", STRENGTHS.index(entry["strength"]))
    )
    rows = [
        (
            writer.link_to("condition", entry["condition"]),
            direction(entry),
            judged(entry),
            figures(entry),
            _studied(writer, entry),
            writer.mark(entry),
        )
        for entry in entries
    ]
    heads = ("Condition", "Effect", "Strength", "Figures", "Tested for, in whom", "Source")
    return table(heads, rows, "points-to") if rows else ""


def signs(writer: Writer, condition: Page) -> str:
    """Return the findings that point to a condition, strongest first: the reverse index."""
    rows = [
        (
            writer.link(finding),
            direction(entry),
            judged(entry),
            figures(entry),
            _studied(writer, entry),
            writer.mark(entry),
        )
        for finding, entry in writer.handbook.signs_of(condition.slug)
    ]
    heads = ("Sign", "Effect", "Strength", "Figures", "Tested for, in whom", "Source")
    return table(heads, rows, "signs") if rows else "<p>No finding of this handbook points to it yet.</p>"


def findings(writer: Writer, step: Page) -> str:
    """Return what may be found in a step: what you see, what it points to, what to do now."""
    rows = []
    for slug in step.listed("findings"):
        finding = writer.handbook.page("finding", slug)
        if finding:
            rows.append(
                (
                    writer.link(finding),
                    writer.text(finding.meta["sees"]),
                    _suggests(writer, finding),
                    writer.text(finding.meta["now"]),
                )
            )
    return table(("Finding", "What you see", "Points to", "Do now"), rows, "findings") if rows else ""


def _suggests(writer: Writer, finding: Page) -> str:
    """Return the conditions a finding speaks for, each once with its best strength."""
    best: dict[str, str] = {}
    for entry in finding.listed("points_to"):
        if entry["direction"] == "for":
            word = best.setdefault(entry["condition"], entry["strength"])
            if STRENGTHS.index(entry["strength"]) < STRENGTHS.index(word):
                best[entry["condition"]] = entry["strength"]
    ordered = sorted(best, key=lambda condition: STRENGTHS.index(best[condition]))
    return listed(f"{writer.link_to('condition', condition)} {strength(best[condition])}" for condition in ordered)


def normal_values(writer: Writer, names: list[str]) -> str:
    """Return the named rows of the normal values, each with whom it holds for and what it rests on."""
    rows = []
    shown = []
    for name in names:
        if row := writer.handbook.values.get(name):
            note = f'<p class="note">{writer.text(row["note"])}</p>' if row.get("note") else ""
            words = escape(values.in_table(writer.handbook, row), quote=False)
            rows.append(
                (
                    writer.text(row["quantity"]),
                    writer.text(row["who"]),
                    f'<strong class="range">{words}</strong>{note}',
                    f'{writer.mark(row)} <span class="seen">{values.SEEN[row["checked"]]}</span>',
                )
            )
        elif name in writer.handbook.tables:
            shown.append(data_table(writer, name))
    heads = ("Quantity", "In whom", "Normal", "Source")
    return "\n".join([*([table(heads, rows, "normal-values")] if rows else []), *shown])


def data_table(writer: Writer, name: str) -> str:
    """Return a table of the data files, with its title and source."""
    row = writer.handbook.tables[name]
    cells = [[writer.text(cell) for cell in cells] for cells in row["rows"]]
    note = f'<p class="note">{writer.text(row["note"])}</p>' if row.get("note") else ""
    return table(row["columns"], cells, "data-table", f"{writer.text(row['title'])} {writer.mark(row)}") + note


def agreement(writer: Writer, entry: dict[str, Any]) -> str:
    """Return how well observers agree, as a sentence."""
    parts = []
    if "kappa" in entry:
        parts.append(f"kappa {values.digits(entry['kappa'])}")
    if "kappa_range" in entry:
        parts.append("kappa {} to {} between studies".format(*map(values.digits, entry["kappa_range"])))
    parts += [writer.text(entry[key]) for key in ("text", "population", "note") if entry.get(key)]
    return f'<p class="agreement">Agreement between observers: {"; ".join(parts)} {writer.mark(entry)}</p>'
