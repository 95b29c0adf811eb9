"""What pressure and pulse do on standing.

Each list of standing readings holds: within 1 minute, at 3 minutes, later.
"""

EARLY = [0, 1]
LATE = [2]
# The definition of a fall, mmHg, systolic and diastolic [freeman2011].
FALL = [20, 10]


def fall_within_three(rest_systolic_mmhg, rest_diastolic_mmhg, standing_systolic_mmhg, standing_diastolic_mmhg):
    """The largest fall within 3 minutes, mmHg [freeman2011]; None without a reading."""
    return _fall(rest_systolic_mmhg, rest_diastolic_mmhg, standing_systolic_mmhg, standing_diastolic_mmhg, EARLY)


def fall_later(rest_systolic_mmhg, rest_diastolic_mmhg, standing_systolic_mmhg, standing_diastolic_mmhg):
    """The fall after 3 minutes, mmHg [gibbons2006]; None without a reading."""
    return _fall(rest_systolic_mmhg, rest_diastolic_mmhg, standing_systolic_mmhg, standing_diastolic_mmhg, LATE)


def initial(first_systolic_fall_mmhg, first_diastolic_fall_mmhg):
    """The fall within 15 seconds as recorded, mmHg [wieling2007]."""
    return {"systolic_fall": first_systolic_fall_mmhg, "diastolic_fall": first_diastolic_fall_mmhg}


def pulse_rise(
    rest_systolic_mmhg,
    rest_diastolic_mmhg,
    standing_systolic_mmhg,
    standing_diastolic_mmhg,
    rest_pulse_per_min, standing_pulse_per_min
):
    """The highest rise of the pulse, /min [freeman2011]; None without a reading or with a fall of the pressure."""
    found = _fall(
        rest_systolic_mmhg, rest_diastolic_mmhg, standing_systolic_mmhg, standing_diastolic_mmhg, EARLY + LATE
    )
    if found is None or found["systolic_fall"] >= FALL[0] or found["diastolic_fall"] >= FALL[1]:
        return None
    highest = max([pulse for pulse in standing_pulse_per_min if pulse is not None])
    return {"rest": rest_pulse_per_min, "highest": highest, "rise": highest - rest_pulse_per_min}


def pulse_change(rest_pulse_per_min, standing_pulse_per_min):
    """The highest rise of the pulse, /min, whatever the pressure does [mcgee1999]; None without a reading."""
    pulses = [pulse for pulse in standing_pulse_per_min if pulse is not None]
    if pulses == []:
        return None
    return {"rest": rest_pulse_per_min, "highest": max(pulses), "rise": max(pulses) - rest_pulse_per_min}


def ratio(
    rest_systolic_mmhg,
    rest_diastolic_mmhg,
    standing_systolic_mmhg,
    standing_diastolic_mmhg,
    rest_pulse_per_min, standing_pulse_per_min, rhythm
):
    """Rise of the pulse ÷ systolic fall at the lowest systolic within 3 minutes [norcliffe2018, in mdedge2018].

    None outside sinus rhythm, and with a systolic fall under 20 mmHg.
    """
    found = _fall(
        rest_systolic_mmhg, rest_diastolic_mmhg, standing_systolic_mmhg, standing_diastolic_mmhg, EARLY
    )
    if rhythm != "sinus" or found is None or found["systolic_fall"] < FALL[0]:
        return None
    place = EARLY[0] if standing_systolic_mmhg[EARLY[0]] == found["systolic_lowest"] else EARLY[1]
    rise = standing_pulse_per_min[place] - rest_pulse_per_min
    return {"rise": rise, "fall": found["systolic_fall"], "ratio": rise / found["systolic_fall"]}


def _fall(rest_systolic, rest_diastolic, systolic, diastolic, places):
    systolics = [systolic[place] for place in places if systolic[place] is not None]
    diastolics = [diastolic[place] for place in places if diastolic[place] is not None]
    if systolics == []:
        return None
    return {
        "systolic_rest": rest_systolic,
        "systolic_lowest": min(systolics),
        "systolic_fall": rest_systolic - min(systolics),
        "diastolic_rest": rest_diastolic,
        "diastolic_lowest": min(diastolics),
        "diastolic_fall": rest_diastolic - min(diastolics),
    }
