"""How a normal value reads: its range in words or in a table, wherever it is shown."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from build_tools.loading import Written

if TYPE_CHECKING:
    from build_tools.handbook import Handbook

# How a figure was seen, in the words of the site.
SEEN = {
    "full-text": "read in full",
    "abstract": "abstract read",
    "guideline-text": "guideline read",
    "quoted-in": "quoted in another work",
    "common-practice": "common practice, no source",
    "memory": "from memory, not looked up",
    "local-sign-off": "for local sign-off",
}


def digits(number: Any) -> str:
    """Return a number as it was written, with a true minus sign."""
    text = number.text if isinstance(number, Written) else f"{number:g}" if isinstance(number, float) else str(number)
    return text.replace("-", "−")


def limits(handbook: Handbook, row: dict[str, Any]) -> tuple[Any, Any]:
    """Return the lower and upper limit of a row, None for an open end.

    A row with `from` takes them from a calculator's band, so that the limit is written once."""
    if "from" not in row:
        return row.get("low"), row.get("high")
    calculator, _, rest = str(row["from"]).partition("/")
    name, _, band_id = rest.rpartition("/")
    schemes = handbook.sheets[calculator].data["schemes"]
    bands = next(scheme["bands"] for scheme in schemes if name in (scheme.get("name"), scheme.get("id")))
    index = next(index for index, band in enumerate(bands) if band["id"] == band_id)
    band = bands[index]
    following = bands[index + 1] if index + 1 < len(bands) else {}
    return band.get("from", band.get("above")), following.get("from", following.get("above"))


def in_words(handbook: Handbook, row: dict[str, Any]) -> str:
    """Return a value for a sentence: "60 to 100 beats/min", "at most 3 cm above the sternal angle"."""
    return _join(row, _range(handbook, row, "{} to {}", "at least {}", "at most {}"))


def in_table(handbook: Handbook, row: dict[str, Any]) -> str:
    """Return a value for a table cell: "60–100 beats/min"."""
    return _join(row, _range(handbook, row, "{}–{}", "{} or more", "{} or less"))


def _range(handbook: Handbook, row: dict[str, Any], both: str, lower: str, upper: str) -> str:
    low, high = limits(handbook, row)
    if low is not None and high is not None:
        # A dash beside a minus sign cannot be read.
        return (both if low >= 0 else "{} to {}").format(digits(low), digits(high))
    if low is not None:
        return lower.format(digits(low))
    return upper.format(digits(high)) if high is not None else ""


def _join(row: dict[str, Any], words: str) -> str:
    unit = str(row.get("unit", ""))
    unit = "" if unit == "ratio" else unit
    text = str(row.get("text", ""))
    if words:
        # The unit belongs to the number, not to "or more".
        ending = re.search(r" or (?:more|less)$", words)
        words = f"{words[: ending.start()]} {unit}{ending.group()}" if ending and unit else f"{words} {unit}"
        return words.strip() + (f"; {text}" if text else "")
    if not unit or re.search(rf"(?<![A-Za-z]){re.escape(unit)}(?![A-Za-z])", text):
        return text
    return f"{text} {unit}" if text[-1:].isdigit() else f"{text} ({unit})"
