"""Toe-brachial index: the systolic pressure of the great toe against that of the arm."""


def index(toe_mmhg, arm_mmhg):
    """TBI = toe ÷ max(right arm, left arm) [gerhardherman2016]; None without a toe or an arm pressure."""
    arms = [pressure for pressure in arm_mmhg if pressure is not None]
    if toe_mmhg is None or arms == []:
        return None
    return {"toe": toe_mmhg, "arm": max(arms), "index": toe_mmhg / max(arms)}


def pressure(toe_mmhg):
    """The toe pressure itself, mmHg; None where it was not measured."""
    return None if toe_mmhg is None else {"toe": toe_mmhg}
