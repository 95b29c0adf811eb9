"""When things happen in a heartbeat, in milliseconds after the start of the QRS.

Sources, as the captions tell them:
- systolic intervals against heart rate, men at rest: weissler1968, coefficients from memory;
- first sound 50 ms after the start of the QRS: jhj1961, abstract;
- mitral valve opens about 100 ms after the second sound: common practice;
- third sound 130 to 180 ms after the second: abrams1978, abstract; we draw the middle;
- fourth sound some 50 ms before the first when it is easily heard: s4audibility1976, abstract;
- PR interval within 120 to 200 ms: surawicz2009, from memory; we draw 160.
"""

from __future__ import annotations

from dataclasses import dataclass

FIRST_SOUND = 50.0
PR = 160.0
MITRAL_OPENING = 100.0  # after the second sound
THIRD_SOUND = 155.0  # after the second sound
FOURTH_SOUND = 50.0  # before the first sound

# Intercept and slope a beat, in milliseconds: from the QRS to the second sound, and of ejection alone.
TO_SECOND_SOUND = (546.0, -2.1)
EJECTION = (413.0, -1.7)
RATES = (30.0, 140.0)  # beats a minute; beyond them nobody measured people at rest


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
    if not RATES[0] <= rate <= RATES[1]:
        raise ValueError(f"The rate is {rate:g} a minute; the regression holds at rest. Choose one from 30 to 140.")
    second = TO_SECOND_SOUND[0] + TO_SECOND_SOUND[1] * rate
    ejection = EJECTION[0] + EJECTION[1] * rate
    return Beat(
        rate=rate,
        length=60000 / rate,
        first_sound=FIRST_SOUND,
        aortic_opening=second - ejection,
        second_sound=second,
        mitral_opening=second + MITRAL_OPENING,
        third_sound=second + THIRD_SOUND,
    )
