"""Voltage criteria for left ventricular hypertrophy, in mm at 10 mm to the millivolt [hancock2009, Table 1,
quoted in lvhtable2016]."""

WOMEN_ADD_MM = 8


def sokolow(s_v1_mm, r_v5_mm, r_v6_mm):
    """Sokolow-Lyon: S in V1 + the taller R of V5 and V6, mm."""
    taller = max(r_v5_mm, r_v6_mm)
    return {"s_v1": s_v1_mm, "taller": taller, "voltage": s_v1_mm + taller}


def sokolow_product(s_v1_mm, r_v5_mm, r_v6_mm, qrs_ms):
    """Sokolow-Lyon voltage × QRS duration, mm·ms."""
    voltage = sokolow(s_v1_mm, r_v5_mm, r_v6_mm)["voltage"]
    return {"voltage": voltage, "qrs": qrs_ms, "product": voltage * qrs_ms}


def cornell(r_avl_mm, s_v3_mm):
    """Cornell: R in aVL + S in V3, mm."""
    return {"r_avl": r_avl_mm, "s_v3": s_v3_mm, "voltage": r_avl_mm + s_v3_mm}


def cornell_product(r_avl_mm, s_v3_mm, qrs_ms, sex):
    """(Cornell voltage, and 8 mm more in women) × QRS duration, mm·ms."""
    added = WOMEN_ADD_MM if sex == "woman" else 0
    voltage = r_avl_mm + s_v3_mm + added
    return {
        "r_avl": r_avl_mm,
        "s_v3": s_v3_mm,
        "added": added,
        "voltage": voltage,
        "qrs": qrs_ms,
        "product": voltage * qrs_ms,
    }


def gubner(r_one_mm, s_three_mm):
    """Gubner: R in lead I + S in lead III, mm."""
    return {"r_one": r_one_mm, "s_three": s_three_mm, "voltage": r_one_mm + s_three_mm}
