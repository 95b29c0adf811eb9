"""When things happen in a heartbeat, in milliseconds after the start of the QRS.

Figures, sounds and waves all take their times from here. Sources, as the captions tell them:
- systolic intervals against heart rate, men at rest: weissler1968, coefficients from memory;
- first sound 50 ms after the start of the QRS: jhj1961, abstract;
- mitral valve opens about 100 ms after the second sound: common practice;
- third sound 130 to 180 ms after the second: abrams1978, abstract; we take the middle;
- fourth sound some 50 ms before the first when it is easily heard: s4audibility1976, abstract;
- PR interval within 120 to 200 ms: surawicz2009, from memory; we take 160;
- second sound in breathing: normal split 10.6 ms on breathing out; on breathing in the aortic part comes 5.2 ms
  earlier and the pulmonary part 32.6 ms later; in atrial septal defect 50.2 ms, widening by 0 to 10 ms (taken: 5);
  in pulmonary stenosis as wide, but moving normally: aygen1962, abstract. The reversed split has no figures: what
  is taken is our choice.
"""

FIRST_SOUND = 50.0
R_WAVE = 40.0  # our choice for drawing
PR = 160.0
MITRAL_OPENING = 100.0  # after the second sound
THIRD_SOUND = 155.0  # after the second sound
FOURTH_SOUND = 50.0  # before the first sound

# Intercept and slope a beat, in milliseconds: from the QRS to the second sound, and of ejection alone.
TO_SECOND_SOUND = (546.0, -2.1)
EJECTION = (413.0, -1.7)
RATES = (30.0, 140.0)  # beats a minute; beyond them nobody measured people at rest

# The second sound's two parts, in milliseconds.
SPLIT_OUT = 10.6
SPLIT_AORTIC_IN, SPLIT_PULMONARY_IN = -5.2, 32.6
SPLIT_SEPTAL_DEFECT = 50.2
SPLIT_SEPTAL_CHANGE = 5.0
SPLIT_REVERSED = 40.0


def beat(rate):
    """Give the events of a beat in milliseconds after the start of the QRS: a dict of floats.

    rate: beats a minute at rest. Raises ValueError outside RATES.
    """
    if not RATES[0] <= rate <= RATES[1]:
        raise ValueError("The regression holds at rest. Choose a rate from 30 to 140 a minute.")
    second = TO_SECOND_SOUND[0] + TO_SECOND_SOUND[1] * rate
    ejection = EJECTION[0] + EJECTION[1] * rate
    return {
        "rate": rate,
        "length": 60000 / rate,
        "r_wave": R_WAVE,
        "first_sound": FIRST_SOUND,
        "aortic_opening": second - ejection,
        "second_sound": second,
        "mitral_opening": second + MITRAL_OPENING,
        "third_sound": second + THIRD_SOUND,
    }
