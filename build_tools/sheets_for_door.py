"""Sheets as the door takes them, on the command line and in the browser alike."""
from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from build_tools.handbook import Handbook
    from build_tools.references import Reference

# What only a build, the search and the page read.
ASIDE = ("aliases", "asks", "checks", "gives", "intro", "needs", "status")
# How content/references.bib begins where it names nobody: "Authors not seen", "Authors not recorded".
UNKNOWN_AUTHORS = "Authors not "


def sheet_for_door(handbook: Handbook, calculator_id: str) -> dict[str, Any]:
    """Return a sheet with its id and with a short reference for each source it names: {key: "McGee 2018"}."""
    data = {key: value for key, value in handbook.sheets[calculator_id].data.items() if key not in ASIDE}
    entries = handbook.references.entries
    cited = {key: short_reference(entries[key]) for key in sorted(set(_keys(data))) if key in entries}
    return {"id": calculator_id, **data, "citations": cited}


def short_reference(reference: Reference) -> str:
    """Return a reference as one would say it: "Bos et al. 2007", or where it stands when nobody signs it."""
    people = [person.get("literal") or person["family"] for person in reference.people.get("author", [])]
    year = reference.fields.get("year", "")
    if not people or people[0].startswith(UNKNOWN_AUTHORS):
        return f"{_where(reference)} {year}".strip()
    others = len(people) > 2 or people[-1] == "others"
    names = f"{people[0]} et al." if others else " and ".join(people)
    return f"{names} {year}".strip()


def _where(reference: Reference) -> str:
    """The journal or publisher of what nobody signs: its title can be a sentence long. A book goes by its title."""
    fields = reference.fields
    title = str(fields.get("title", reference.key))
    if reference.type == "book":
        return title
    return str(fields.get("journal") or str(fields.get("howpublished", "")).partition(",")[0] or title)


def _keys(value: Any) -> Iterator[str]:
    if isinstance(value, dict):
        yield from (str(value[name]) for name in ("source", "quoted_in") if name in value)
        for inner in value.values():
            yield from _keys(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _keys(inner)
