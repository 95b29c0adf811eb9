"""The listening room's data: every sound can be made, at every place and in every manoeuvre, and none is cut off."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from build_tools.listening_room import MODEL
from build_tools.loading import line_of
from build_tools.problems import Problem
from calculators.models import heart_sounds
from calculators.models.heart_sound_plan import chosen_of, plan_of

if TYPE_CHECKING:
    from build_tools.handbook import Handbook, Model

MEND = "hold the row against the comments at the head of its part, and against the rows beside it"


def check(handbook: Handbook) -> Iterator[Problem]:
    """Yield a problem for each sound that cannot be made from its row, or that is too loud to be made whole."""
    model = handbook.models.get(MODEL)
    scenes = model.data.get("scenes", []) if model else []
    for index, scene in enumerate(scenes):
        if model and (fault := _fault(model, scene)):
            yield Problem(model.file, line_of(model.lines, ("scenes", index)), fault, MEND)


def _fault(model: Model, scene: dict[str, Any]) -> str:
    """Say what is wrong with a scene, "" if nothing is."""
    data = model.data
    name = scene.get("id", "?")
    try:
        area, piece = scene["best"]
        asked = {"scene": name, "area": area, "piece": piece}
        places = [{**asked, "area": row["id"]} for row in data["areas"]]
        for request in [*places, *({**asked, "manoeuvre": row["id"]} for row in data["manoeuvres"])]:
            chosen, problem = chosen_of(data, request)
            if problem:
                return f'the sound "{name}" cannot be made: {problem}'
            plan_of(data, chosen)
        answer = heart_sounds.answer(data, asked)
    # Whatever an odd row makes go wrong while it is reckoned with is a fault of the row.
    except (KeyError, TypeError, ValueError, IndexError, AttributeError, ZeroDivisionError) as fault:
        return f'the sound "{name}" cannot be made: {type(fault).__name__} {fault}'
    if max(map(abs, answer["samples"])) >= heart_sounds.LIMIT:
        return f'the sound "{name}" is too loud and would be cut off where it is best heard'
    return ""
