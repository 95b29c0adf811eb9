"""The least bladder for an arm."""


def length(arm_cm):
    """Least bladder length = 0.80 × arm circumference, cm [targetbp]."""
    return {"arm": arm_cm, "length": 0.80 * arm_cm}


def width(arm_cm):
    """Least bladder width = 0.40 × arm circumference, cm [targetbp]."""
    return {"arm": arm_cm, "width": 0.40 * arm_cm}
