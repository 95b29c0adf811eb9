"""The difference of systolic pressure between the arms."""


def difference(right_mmhg, left_mmhg):
    """Difference = higher − lower, mmHg [clark2012, abstract]. `right_higher` is true if the right arm is it."""
    return {
        "higher": max(right_mmhg, left_mmhg),
        "lower": min(right_mmhg, left_mmhg),
        "difference": abs(right_mmhg - left_mmhg),
        "right_higher": right_mmhg > left_mmhg,
        "left_higher": left_mmhg > right_mmhg,
    }
