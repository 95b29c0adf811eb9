"""Rate and frontal axis from the ECG."""

import math


def rate_from_distance(rr_mm):
    """Rate = 1500 ÷ distance between R waves in mm at 25 mm/s [harrisonmanual2016]."""
    return {"distance": rr_mm, "rate": 1500 / rr_mm}


def rate_from_count(complexes):
    """Rate = 6 × complexes in 10 s [harrisonmanual2016; arithmetic]."""
    return {"complexes": complexes, "rate": 6 * complexes}


def axis(lead_one_mm, lead_avf_mm):
    """Axis = angle of (I, 2 aVF ÷ √3), degrees [novosel1999, abstract]; None if both are zero."""
    across = 2 * lead_avf_mm / math.sqrt(3)
    return _found(lead_one_mm, lead_avf_mm, across)


def axis_plain(lead_one_mm, lead_avf_mm):
    """Axis = angle of (I, aVF), degrees [novosel1999, abstract]; None if both are zero."""
    return _found(lead_one_mm, lead_avf_mm, lead_avf_mm)


def _found(one, avf, across):
    if one == 0 and avf == 0:
        return None
    return {"one": one, "avf": avf, "across": across, "axis": _angle(one, across)}


def _angle(one, across):
    """The angle of a point from the axis of lead I, over −180 to 180 degrees, clockwise positive."""
    if one == 0:
        return 90 if across > 0 else -90
    angle = math.atan(across / one) * 180 / math.pi
    if one > 0:
        return angle
    return angle + 180 if across >= 0 else angle - 180
