"""Capillary refill: the time itself; the limits by age and sex stand in the sheet."""


def refill(refill_s):
    """The refill time as timed, s [schriger1988, abstract]; `longer` adds what a repeat may differ by
    [crtkinetics2022, abstract]."""
    return {"refill": refill_s, "longer": refill_s + 0.2}
