"""Averages of several blood pressure readings, by the rules of three guidelines.

Each reading is a systolic and a diastolic pressure in mmHg. The arm with the higher mean systolic pressure
is used where both were read.
"""

from calculators.numbers import plain

OFFICE = "office"


def mean_of_all(
    right_systolic_mmhg, right_diastolic_mmhg, left_systolic_mmhg, left_diastolic_mmhg, setting, symptoms
):
    """The mean of every reading of the arm [whelton2018, remembered]. None without a reading.

    `one_in_office` is true for a single reading in the office; an average of days is entered as one.
    """
    right = _readings(right_systolic_mmhg, right_diastolic_mmhg)
    left = _readings(left_systolic_mmhg, left_diastolic_mmhg)
    found = _averaged(right, left, _higher_arm(right, left), symptoms)
    if found is not None:
        found["one_in_office"] = setting == OFFICE and found["readings"] == 1
    return found


def mean_of_last_two(
    right_systolic_mmhg, right_diastolic_mmhg, left_systolic_mmhg, left_diastolic_mmhg, setting, symptoms
):
    """The mean of the last two [stergiou2021, quoted in eacs]. None outside the office or with one reading."""
    right = _readings(right_systolic_mmhg, right_diastolic_mmhg)
    left = _readings(left_systolic_mmhg, left_diastolic_mmhg)
    last = _last_two(right, left, setting)
    return None if last is None else _averaged(right, left, last, symptoms)


def lower_of_last_two(
    right_systolic_mmhg, right_diastolic_mmhg, left_systolic_mmhg, left_diastolic_mmhg, setting, symptoms
):
    """The reading with the lower systolic of the last two [nice2019ng136, quoted in practitioner2020].

    None outside the office or with one reading.
    """
    right = _readings(right_systolic_mmhg, right_diastolic_mmhg)
    left = _readings(left_systolic_mmhg, left_diastolic_mmhg)
    last = _last_two(right, left, setting)
    if last is None:
        return None
    found = _averaged(right, left, [min(last)], symptoms)
    found["lower_terms"] = ", ".join([plain(one[0]) + "/" + plain(one[1]) for one in last])
    return found


def _readings(systolic, diastolic):
    """[[systolic, diastolic], ...] of the readings that were entered."""
    return [
        [systolic[place], diastolic[place]]
        for place in range(len(systolic))
        if systolic[place] is not None and diastolic[place] is not None
    ]


def _higher_arm(right, left):
    """The readings of the arm with the higher mean systolic pressure."""
    if right == [] or (left != [] and _mean(left, 0) > _mean(right, 0)):
        return left
    return right


def _last_two(right, left, setting):
    arm = _higher_arm(right, left)
    if setting != OFFICE or len(arm) < 2:
        return None
    return arm[-2:]


def _mean(readings, place):
    whole = 0
    for reading in readings:
        whole = whole + reading[place]
    return whole / len(readings)


def _averaged(right, left, readings, symptoms):
    if readings == []:
        return None
    systolic = _mean(readings, 0)
    diastolic = _mean(readings, 1)
    severe = systolic >= 180 or diastolic >= 120
    return {
        "systolic": systolic,
        "diastolic": diastolic,
        "systolic_terms": " + ".join([plain(reading[0]) for reading in readings]),
        "diastolic_terms": " + ".join([plain(reading[1]) for reading in readings]),
        "readings": len(readings),
        "severe_with_symptoms": severe and symptoms == "some",
        "severe_not_asked": severe and symptoms not in ["some", "none"],
        "symptoms_below_severe": symptoms == "some" and not severe,
        "arms_differ": right != [] and left != [] and abs(_mean(right, 0) - _mean(left, 0)) > 10,
    }
