"""Shock index: heart rate over systolic pressure."""


def index(heart_rate_per_min, systolic_mmhg):
    """SI = heart rate ÷ systolic pressure, /min per mmHg [rady1994, abstract]."""
    return {
        "heart_rate": heart_rate_per_min,
        "systolic": systolic_mmhg,
        "index": heart_rate_per_min / systolic_mmhg,
    }


def difference(heart_rate_per_min, systolic_mmhg):
    """Heart rate − systolic pressure, which turns positive as the index passes 1 [kamikawa2020, abstract]."""
    return {
        "heart_rate": heart_rate_per_min,
        "systolic": systolic_mmhg,
        "difference": heart_rate_per_min - systolic_mmhg,
    }
