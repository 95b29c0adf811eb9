"""Measures of a clubbed finger."""


def depth_ratio(nail_base_mm, joint_mm):
    """Depth at the base of the nail ÷ depth at the last joint of the index finger [baughman1998, abstract]."""
    return {"nail_base": nail_base_mm, "joint": joint_mm, "ratio": nail_base_mm / joint_mm}


def profile(profile_degrees):
    """The angle between the nail and the skin behind it, degrees [myers2001, abstract]."""
    return {"angle": profile_degrees}


def hyponychial(hyponychial_degrees):
    """The angle from the last joint over the nail fold to the tip, degrees [myers2001, abstract]."""
    return {"angle": hyponychial_degrees}
