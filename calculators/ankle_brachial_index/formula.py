"""Ankle-brachial index: the systolic pressure at the ankle against that of the arm.

`ankle_mmhg` holds the dorsalis pedis and posterior tibial pressures of one leg, `arm_mmhg` those of
both arms. In place of a number stand None (not measured, or no limb) and "not-compressible" (flow
still heard at 300 mmHg); no flow heard counts as 0 mmHg.
"""

STIFF = "not-compressible"


def by_higher_ankle(ankle_mmhg, arm_mmhg):
    """ABI = max(DP, PT) / max(right arm, left arm) [gerhardherman2016, table on the resting ABI].

    "not-compressible" if either artery is, since that one is the higher. None without an arm or an ankle
    pressure, and with no flow in one artery while the other was not measured: that is no index of 0.
    """
    if STIFF in ankle_mmhg:
        return STIFF
    ankles = _measured(ankle_mmhg)
    arms = _measured(arm_mmhg)
    if ankles == [] or arms == []:
        return None
    if max(ankles) == 0 and len(ankles) < len(ankle_mmhg):
        return None
    return _index(max(ankles), max(arms), len(ankles))


def by_lower_ankle(ankle_mmhg, arm_mmhg):
    """The same with the lower ankle pressure: min(DP, PT) / max(right arm, left arm) [lange2007, abstract].

    An artery that cannot be compressed is not the lower one unless both are. None unless both arteries
    were measured, and without an arm.
    """
    ankles = [pressure for pressure in ankle_mmhg if pressure != STIFF]
    arms = _measured(arm_mmhg)
    if ankles == []:
        return STIFF
    if None in ankles or arms == []:
        return None
    return _index(min(ankles), max(arms), len(ankle_mmhg))


def ankle_pressure(ankle_mmhg):
    """The higher ankle pressure itself, mmHg. Answers as in by_higher_ankle."""
    if STIFF in ankle_mmhg:
        return STIFF
    ankles = _measured(ankle_mmhg)
    if ankles == [] or (max(ankles) == 0 and len(ankles) < len(ankle_mmhg)):
        return None
    return {"pressure": max(ankles)}


def arm_difference(arm_mmhg):
    """The difference between the arms, mmHg; None unless both were measured."""
    right, left = arm_mmhg
    if right is None or left is None:
        return None
    return {"higher": max(right, left), "lower": min(right, left), "difference": abs(right - left)}


def _measured(pressures):
    return [pressure for pressure in pressures if pressure is not None]


def _index(ankle, arm, arteries):
    return {"ankle": ankle, "arm": arm, "arteries": arteries, "index": ankle / arm}
