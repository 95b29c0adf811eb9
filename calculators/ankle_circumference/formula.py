"""The change of the ankle's circumference."""


def change(before_cm, now_cm):
    """Change = now − before, cm [brodovicz2009, abstract, on the agreement of the measure]."""
    return {"before": before_cm, "now": now_cm, "change": now_cm - before_cm}
