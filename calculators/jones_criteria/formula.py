"""The items of the revised Jones criteria that depend on the risk of the population [gewitz2015, table 38].

Each function returns [lowest, highest] count: 0 or 1 where it is known, [0, 1] where it is not.
"""

from calculators.numbers import at_least

LOW = "low"
MAJOR_LOW = ["polyarthritis"]
MAJOR_HIGHER = ["polyarthritis", "monoarthritis", "polyarthralgia"]
MINOR_LOW = ["polyarthralgia"]
MINOR_HIGHER = ["monoarthralgia"]


def joints_major(joints, risk):
    """The joint criterion as a major one."""
    return _one_of(joints, MAJOR_LOW if risk == LOW else MAJOR_HIGHER)


def joints_minor(joints, risk):
    """The joint criterion as a minor one; joints count once, since the two lists have nothing in common."""
    return _one_of(joints, MINOR_LOW if risk == LOW else MINOR_HIGHER)


def fever(temperature_c, risk):
    """38.5 °C or more, or 38.0 °C or more where the risk is higher."""
    return _from(temperature_c, 38.5 if risk == LOW else 38.0)


def inflammation(esr_mm_per_h, crp_mg_per_dl, risk):
    """ESR 60 mm/h (30 where the risk is higher) or CRP 3.0 mg/dL, or more; either is enough."""
    esr = _from(esr_mm_per_h, 60 if risk == LOW else 30)
    crp = _from(crp_mg_per_dl, 3.0)
    return [max(esr[0], crp[0]), max(esr[1], crp[1])]


def pr(long_pr, carditis):
    """A long PR counts only without carditis."""
    if long_pr == "no" or carditis == "yes":
        return [0, 0]
    return [1, 1] if long_pr == "yes" and carditis == "no" else [0, 1]


def _one_of(answer, counted):
    if answer is None:
        return [0, 1]
    return [1, 1] if answer in counted else [0, 0]


def _from(value, limit):
    if value is None:
        return [0, 1]
    return [1, 1] if at_least(value, limit) else [0, 0]
