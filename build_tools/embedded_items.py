"""The items of a score as a table: what each answer counts."""
from __future__ import annotations

from html import escape
from typing import Any

from calculators import scores, units, wording
from calculators.numbers import plain

Data = dict[str, Any]


def items_html(data: Data) -> str:
    """Return the items with their points, or nothing where a sheet has none."""
    items = data.get("items", [])
    if not items:
        return ""
    several = len({tally for item in items for tally in scores.tallies_of(item)}) > 1
    rows = "".join(
        f'<tr><th scope="row">{escape(item["label"])}</th>'
        f'<td>{"<br>".join(map(escape, _counts(item, several)))}</td></tr>'
        for item in items
    )
    return (
        '<table class="calculator-items"><thead><tr><th scope="col">Item</th><th scope="col">Counts</th></tr></thead>'
        f"<tbody>{rows}</tbody></table>"
    )


def _counts(item: Data, several: bool) -> list[str]:
    """What an item counts, a line for each answer."""
    tally = " " + " and ".join(map(wording.spaced, scores.tallies_of(item))) if several else ""
    if "formula" in item:
        return [item["counts"]]
    if "choices" in item:
        lines = [f'{choice["label"]}: {plain(choice["points"])}{tally}' for choice in item["choices"]]
    elif "unit" in item:
        lines = [f'{_from(item, step)}: {plain(step["gives"])}{tally}' for step in item["points"]]
    else:
        lines = [f'{plain(item["points"])}{tally}']
    if "group" in item:
        lines.append(f"the highest of {item['group']} counts")
    return lines


def _from(item: Data, step: Data) -> str:
    if "from" in step:
        return units.with_unit(plain(step["from"]), item["unit"]) + " or more"
    return "above " + units.with_unit(plain(step["above"]), item["unit"]) if "above" in step else "lower"
