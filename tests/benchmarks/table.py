"""One table of figures, each beside its target."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Row:
    """A figure with its unit; `target` and whether it is reached, where there is one."""

    name: str
    value: float
    unit: str
    target: str = ""
    reached: bool | None = None


def show(rows: list[Row]) -> str:
    """Give the table as text for a terminal."""
    lines = [f"{'':42}{'measured':>12}  {'target':>11}"]
    for row in rows:
        verdict = "" if row.reached is None else ("reached" if row.reached else "MISSED")
        digits = 0 if abs(row.value) >= 100 else 1 if row.unit == "ms" else 2
        figure = f"{row.value:.{digits}f} {row.unit}".rstrip()
        lines.append(f"{row.name:42}{figure:>12}  {row.target:>11}  {verdict}".rstrip())
    return "\n".join(lines)
