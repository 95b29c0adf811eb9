"""The class of a proven infarction: the gravest sign, whose class the sheet holds."""


def base(infarction):
    """The class of an infarction without any sign, [lowest, highest] [killip1967, quoted in bmckillip2018]."""
    return [1, 1]
