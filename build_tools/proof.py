"""The proof that a reader can ask for: every check of every calculator, worked out again on the reader's device.

While building, each check is held against its published value (proving.py). What the proved answer came to is
recorded here, without its words, and the device must come to the same.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from build_tools import proving
from build_tools.sheets_for_door import sheet_for_door
from calculators import door

if TYPE_CHECKING:
    from build_tools.handbook import Handbook


def proved(handbook: Handbook) -> list[str]:
    """Give the calculators that are checked: all but drafts."""
    return [name for name, sheet in sorted(handbook.sheets.items()) if not sheet.is_draft]


def recorded(handbook: Handbook) -> list[dict[str, Any]]:
    """Give each check: {"name": what a miss is called, "request": for the door, "expect": essence of the answer}."""
    records = []
    for calculator in proved(handbook):
        data = handbook.sheets[calculator].data
        door.load(json.dumps(sheet_for_door(handbook, calculator)))
        for number, check in enumerate(data["checks"], 1):
            answer = proving.answered(calculator, data, check)
            records.append({
                "name": f"{data['title']}, check {number}{_about(check)}",
                "request": proving.request_of(calculator, data, check),
                "expect": essence(answer),
            })
    return records


def _about(check: dict[str, Any]) -> str:
    about = check.get("place") or check.get("note") or ""
    return f" ({about})" if about else ""


def essence(answer: dict[str, Any]) -> dict[str, Any]:
    """Reduce an answer of the door to what it found. `essence` in web/scripts/proof.js gives the same."""
    return {
        "state": answer["state"],
        "problems": [[problem["field"], problem["kind"]] for problem in answer["problems"]],
        "cautions": [caution["field"] for caution in answer["cautions"]],
        "results": [
            [
                result["output"], result["side"], result["value"], result["unit"], result["raw"],
                [[also["value"], also["unit"]] for also in result["also"]],
                [[band["scheme_id"], band["band"]] for band in result["bands"]],
            ]
            for result in answer["results"]
        ],
    }


def proof_html(handbook: Handbook) -> str:
    """Give the place on a page where a reader starts the proof. It needs the page's script."""
    calculators = proved(handbook)
    checks = sum(len(handbook.sheets[name].data["checks"]) for name in calculators)
    return (
        '<section class="proof calculator" data-proof aria-labelledby="proof-title">'
        '<h3 id="proof-title">The proof</h3>'
        f"<p>Works out all {checks} checks of {len(calculators)} calculators, "
        "<span data-proof-in>in both engines</span>.</p>"
        '<p class="needs-script"><button type="button" data-proof-start>Prove it on this device</button></p>'
        '<noscript><p>This needs the page’s scripts, which your browser does not run.</p></noscript>'
        f'<p><progress data-proof-progress max="{2 * checks}" value="0" aria-label="Checks done" hidden></progress></p>'
        '<p role="status" data-proof-told></p>'
        '<ul data-proof-engines></ul>'
        '<ol data-proof-misses hidden></ol>'
        "</section>"
    )
