"""One pressure in three units. The sizes of the units are exact by definition [nist811, Appendix B]."""


def converted(pressure_mmhg):
    """kPa = mmHg × 133.322387415 ÷ 1000; cmH2O = mmHg × 1.35951 [nist811, Appendix B, quotients]."""
    return {
        "mmhg": pressure_mmhg,
        "kpa": pressure_mmhg * 133.322387415 / 1000,
        "cmh2o": pressure_mmhg * 1.35951,
    }


def blood_column(pressure_mmhg):
    """Height of blood in cm: water in cm ÷ 1.06, since blood is 1.06 times as heavy (common practice)."""
    cmh2o = pressure_mmhg * 1.35951
    return {"mmhg": pressure_mmhg, "cmh2o": cmh2o, "blood": cmh2o / 1.06}
