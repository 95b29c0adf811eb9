"""Mean arterial pressure from a systolic and a diastolic arm pressure.

The true mean is the area under the pressure wave divided by its duration. A cuff gives two points of
the wave, so each formula here assumes at what share of the pulse pressure the mean lies.
"""

import math


def one_third(systolic_mmhg, diastolic_mmhg):
    """The mean one third of the way up: MAP = D + (S - D) / 3, mmHg [mcgee2018, chapter 17].

    Measured against the brachial wave it reads 5.0 mmHg low, give or take 6.7 [grillo2020, abstract].
    """
    pulse_pressure = systolic_mmhg - diastolic_mmhg
    return {
        "systolic": systolic_mmhg,
        "diastolic": diastolic_mmhg,
        "pulse_pressure": pulse_pressure,
        "mean": diastolic_mmhg + pulse_pressure / 3,
    }


def two_fifths(systolic_mmhg, diastolic_mmhg):
    """The mean 40 % of the way up: MAP = D + 0.40 (S - D), mmHg [bos2007, abstract].

    Inside the artery the mean lay at 39.5 % (SD 2.5) of the pulse pressure in 57 people.
    """
    pulse_pressure = systolic_mmhg - diastolic_mmhg
    return {
        "systolic": systolic_mmhg,
        "diastolic": diastolic_mmhg,
        "pulse_pressure": pulse_pressure,
        "mean": diastolic_mmhg + 0.40 * pulse_pressure,
    }


def rate_corrected(systolic_mmhg, diastolic_mmhg, heart_rate_per_min):
    """Corrected for heart rate: MAP = D + (0.33 + 0.0012 HR) (S - D), mmHg [razminia2004, abstract].

    Fitted to pressures in the central aorta; validated in 12 paced patients.
    """
    pulse_pressure = systolic_mmhg - diastolic_mmhg
    share = 0.33 + 0.0012 * heart_rate_per_min
    return {
        "systolic": systolic_mmhg,
        "diastolic": diastolic_mmhg,
        "heart_rate": heart_rate_per_min,
        "pulse_pressure": pulse_pressure,
        "share": share,
        "mean": diastolic_mmhg + share * pulse_pressure,
    }


def rate_fitted(systolic_mmhg, diastolic_mmhg, heart_rate_per_min):
    """A fit with heart rate: MAP = D + (0.086 ln(HR - 41.2) + 0.079) (S - D), mmHg [nguyen2025, abstract].

    None at 41.2/min and below, where the logarithm ends. A preprint, not peer-reviewed.
    """
    if heart_rate_per_min <= 41.2:
        return None
    pulse_pressure = systolic_mmhg - diastolic_mmhg
    share = 0.086 * math.log(heart_rate_per_min - 41.2) + 0.079
    return {
        "systolic": systolic_mmhg,
        "diastolic": diastolic_mmhg,
        "heart_rate": heart_rate_per_min,
        "pulse_pressure": pulse_pressure,
        "share": share,
        "mean": diastolic_mmhg + share * pulse_pressure,
    }
