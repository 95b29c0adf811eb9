"""The ischaemia grade of WIfI: the limits stand in the sheet."""

TOE_LIMIT_MMHG = 60


def by_toe(toe_mmhg):
    """The toe pressure, mmHg, and its share of the limit of grade 0 in per cent [mills2014, in medicina2024]."""
    return {"value": toe_mmhg, "share": 100 * toe_mmhg / TOE_LIMIT_MMHG}


def by_index(index):
    """The ankle-brachial index [mills2014, quoted in medicina2024]."""
    return {"value": index}


def by_ankle(ankle_mmhg):
    """The ankle pressure, mmHg [mills2014, quoted in medicina2024]."""
    return {"value": ankle_mmhg}
