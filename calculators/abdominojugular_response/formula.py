"""The rise of the neck veins under pressure on the abdomen, and their fall on release."""


def rise(before_cm, during_cm):
    """Rise = level kept up under pressure − level before, cm [marantz1990, methods]."""
    return {"before": before_cm, "during": during_cm, "rise": during_cm - before_cm}


def fall(during_cm, after_cm):
    """Fall = level at the end of pressure − level just after release, cm [ewy1988, abstract]."""
    return {"during": during_cm, "after": after_cm, "fall": during_cm - after_cm}
