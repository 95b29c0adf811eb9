"""Pulse pressure, and its share of the systolic pressure."""


def difference(systolic_mmhg, diastolic_mmhg):
    """Pulse pressure: PP = S - D, mmHg [stevenson1989, abstract]."""
    return {
        "systolic": systolic_mmhg,
        "diastolic": diastolic_mmhg,
        "pulse_pressure": systolic_mmhg - diastolic_mmhg,
    }


def proportion(systolic_mmhg, diastolic_mmhg):
    """Proportional pulse pressure: 100 (S - D) / S, per cent [stevenson1989, abstract]."""
    pulse_pressure = systolic_mmhg - diastolic_mmhg
    return {
        "systolic": systolic_mmhg,
        "diastolic": diastolic_mmhg,
        "pulse_pressure": pulse_pressure,
        "share": 100 * pulse_pressure / systolic_mmhg,
    }
