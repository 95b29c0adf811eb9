"""What the findings' own pages say of their accuracy, as the choices of a calculator.

A sheet whose input says `choices_from = "findings"` is filled here as it is loaded, so each ratio is written once, on
the page of its finding. A ratio that is only remembered is not offered, nor the same one twice from one page; a
remembered interval is left out.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from build_tools.citations import without_marks
from build_tools.sheets_for_door import short_reference

if TYPE_CHECKING:
    from build_tools.handbook import Handbook, Page

FINDINGS = "findings"
# The two ends of a test: whether the finding is there, and how that is said.
ENDS = (("lr_pos", "found"), ("lr_neg", "not found"))


def fill(handbook: Handbook) -> None:
    """Give every input that asks for findings its choices."""
    found: list[dict[str, Any]] | None = None
    for sheet in handbook.sheets.values():
        for entry in asked_for(sheet.data):
            if found is None:
                found = list(choices(handbook))
            entry["choices"] = found


def asked_for(data: dict[str, Any]) -> list[dict[str, Any]]:
    """Return the inputs of a sheet whose choices stand on the findings' pages."""
    return [one for one in data.get("inputs", []) if isinstance(one, dict) and one.get("choices_from") == FINDINGS]


def calculators_of(handbook: Handbook, finding: str) -> list[str]:
    """Return the calculators that a finding can be chosen in, by its slug."""
    return [
        name
        for name, sheet in handbook.sheets.items()
        for entry in asked_for(sheet.data)
        if any(one["data"]["finding"] == finding for one in entry["choices"])
    ]


def choices(handbook: Handbook) -> Iterator[dict[str, Any]]:
    """Yield each ratio of the pages: {id, label, group: condition, data: what the formula takes}, by condition."""
    rows: list[tuple[str, str, dict[str, Any]]] = []
    seen: set[tuple[Any, ...]] = set()
    for page in handbook.of_kind("finding"):
        for entry in page.listed("points_to"):
            if not isinstance(entry, dict) or entry.get("checked") == "memory":
                continue
            condition = handbook.page("condition", str(entry.get("condition")))
            group = condition.title if condition else str(entry.get("condition"))
            for key, state in ENDS:
                # The same ratio may stand in a row for the sign and in one against it.
                same = (page.id, group, entry.get("source"), key, entry.get(key), tuple(entry.get(f"{key}_ci", ())))
                if isinstance(entry.get(key), (int, float)) and entry[key] > 0 and same not in seen:
                    seen.add(same)
                    rows.append((group, page.title, _choice(handbook, page, entry, key, state)))
    used: dict[str, int] = {}
    for group, _, choice in sorted(rows, key=lambda row: row[:2]):
        used[choice["id"]] = used.get(choice["id"], 0) + 1
        if used[choice["id"]] > 1:
            choice["id"] += f"-{used[choice['id']]}"
        yield {**choice, "group": group}


def _choice(handbook: Handbook, page: Page, entry: dict[str, Any], key: str, state: str) -> dict[str, Any]:
    source = str(entry.get("source", ""))
    reference = handbook.references.entries.get(source)
    target, population = (_plain(entry.get(part)) for part in ("target", "population"))
    interval = None if entry.get("ci_checked") == "memory" else entry.get(f"{key}_ci")
    name = f"{page.title}, {state}"
    return {
        "id": f"{page.slug}-{entry['condition']}-{state.replace(' ', '-')}",
        "label": f"{name}: {target} ({population})",
        "data": {
            "name": name,
            "finding": page.slug,
            # Without a name of its own a row was studied for itself alone.
            "study": entry.get("study") or f"{page.slug}: {target}",
            "mechanism": entry.get("mechanism") or page.slug,
            "ratio": float(entry[key]),
            "low": float(interval[0]) if interval else None,
            "high": float(interval[1]) if interval else None,
            "target": target,
            "population": population,
            "note": _plain(entry.get("note")),
            "reference": f"{short_reference(reference) if reference else source}, {_plain(entry.get('place'))}",
        },
    }


def _plain(text: object) -> str:
    return " ".join(without_marks(str(text or "")).split())
