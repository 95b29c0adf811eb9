"""Systolic pressure of the arm against that of the leg."""


def difference(arm_mmhg, leg_mmhg):
    """Difference = arm − leg, mmHg [isselbacher2022, table 37]; below zero where the leg is higher."""
    return {"arm": arm_mmhg, "leg": leg_mmhg, "difference": arm_mmhg - leg_mmhg}
