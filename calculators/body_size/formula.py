"""Body size: mass against height, body surface, waist and arm span."""

import math


def body_mass_index(weight_kg, height_cm):
    """BMI = weight ÷ height², kg/m² [whobmi, introductory example]."""
    height = height_cm / 100
    return {"weight": weight_kg, "height": height, "index": weight_kg / (height * height)}


def surface_mosteller(weight_kg, height_cm):
    """BSA = √(height × weight ÷ 3600), m² [mosteller1987, quoted in wikibsa]."""
    product = height_cm * weight_kg
    share = product / 3600
    return {
        "weight": weight_kg,
        "height": height_cm,
        "product": product,
        "share": share,
        "surface": math.sqrt(share),
    }


def surface_du_bois(weight_kg, height_cm):
    """BSA = 0.007184 × weight^0.425 × height^0.725, m² [dubois1916, quoted in wikibsa]."""
    by_weight = math.exp(0.425 * math.log(weight_kg))
    by_height = math.exp(0.725 * math.log(height_cm))
    return {
        "weight": weight_kg,
        "height": height_cm,
        "by_weight": by_weight,
        "by_height": by_height,
        "surface": 0.007184 * by_weight * by_height,
    }


def surface_livingston(weight_kg):
    """BSA = 0.1173 × weight^0.6466, m² [livingston2001, abstract]."""
    by_weight = math.exp(0.6466 * math.log(weight_kg))
    return {"weight": weight_kg, "by_weight": by_weight, "surface": 0.1173 * by_weight}


def waist(waist_cm):
    """The waist as measured, cm."""
    return {"waist": waist_cm}


def waist_to_height(waist_cm, height_cm, weight_kg):
    """Waist ÷ height [niceng246, quoted in lbc2022]. None at a BMI of 35 and more, for which it is not made."""
    if body_mass_index(weight_kg, height_cm)["index"] >= 35:
        return None
    return {"waist": waist_cm, "height": height_cm, "ratio": waist_cm / height_cm}


def waist_to_hip(waist_cm, hip_cm):
    """Waist ÷ hip [who2011waist, quoted in jobes2013]."""
    return {"waist": waist_cm, "hip": hip_cm, "ratio": waist_cm / hip_cm}


def span_to_height(span_cm, height_cm):
    """Arm span ÷ height [loeys2010, quoted in heartmarfan]."""
    return {"span": span_cm, "height": height_cm, "ratio": span_cm / height_cm}
