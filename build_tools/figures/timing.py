"""When things happen in a heartbeat, for drawing: the times of `calculators.models.cycle`, which names the sources."""

from __future__ import annotations

from dataclasses import dataclass

from calculators.models import cycle
from calculators.models.cycle import FOURTH_SOUND, MITRAL_OPENING, PR

__all__ = ["FOURTH_SOUND", "MITRAL_OPENING", "PR", "Beat", "beat"]


@dataclass(frozen=True)
class Beat:
    """One beat at a rate: its length and events in milliseconds after the start of the QRS."""

    rate: float
    length: float
    first_sound: float
    aortic_opening: float
    second_sound: float
    mitral_opening: float
    third_sound: float

    @property
    def systole(self) -> float:
        """Milliseconds from the first to the second sound."""
        return self.second_sound - self.first_sound

    @property
    def systole_share(self) -> float:
        """Share of the beat from the first to the second sound."""
        return self.systole / self.length


def beat(rate: float) -> Beat:
    """Give the events of a beat at a resting rate in beats a minute. Raises ValueError outside 30 to 140."""
    events = cycle.beat(rate)
    return Beat(**{name: events[name] for name in Beat.__dataclass_fields__})
