"""How far ankle pressure and ankle-brachial index fall on exercise."""


def pressure_fall(ankle_before_mmhg, ankle_after_mmhg):
    """Fall = ankle pressure before − after, mmHg [aboyans2012, quoted in kyte2023]."""
    return {"before": ankle_before_mmhg, "after": ankle_after_mmhg, "fall": ankle_before_mmhg - ankle_after_mmhg}


def index_fall(ankle_before_mmhg, arm_before_mmhg, ankle_after_mmhg, arm_after_mmhg):
    """Fall = 100 (index before − index after) ÷ index before, per cent [aboyans2012, quoted in kyte2023].

    `stiff` is true for a resting index above 1.40, where the arteries cannot be compressed [gornik2024].
    """
    before = ankle_before_mmhg / arm_before_mmhg
    after = ankle_after_mmhg / arm_after_mmhg
    return {
        "ankle_before": ankle_before_mmhg,
        "arm_before": arm_before_mmhg,
        "ankle_after": ankle_after_mmhg,
        "arm_after": arm_after_mmhg,
        "before": before,
        "after": after,
        "fall": 100 * (before - after) / before,
        "stiff": before > 1.40,
    }
