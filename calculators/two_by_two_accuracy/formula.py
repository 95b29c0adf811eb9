"""Accuracy of a sign from the four counts of a study, with 95 % intervals."""

import math

# Two-sided 95 % of the normal distribution.
Z = 1.96


def sensitivity(true_positive, false_negative):
    """Sensitivity, per cent, with its interval [altman1994a]; None if nobody has the disease."""
    return _share(true_positive, true_positive + false_negative)


def specificity(false_positive, true_negative):
    """Specificity, per cent, with its interval [altman1994a]; None if nobody is without the disease."""
    return _share(true_negative, true_negative + false_positive)


def predictive_positive(true_positive, false_positive):
    """Positive predictive value, per cent, with its interval [altman1994b]."""
    return _share(true_positive, true_positive + false_positive)


def predictive_negative(false_negative, true_negative):
    """Negative predictive value, per cent, with its interval [altman1994b]."""
    return _share(true_negative, true_negative + false_negative)


def prevalence(true_positive, false_positive, false_negative, true_negative):
    """Share with the disease, per cent, with its interval [altman1994b]."""
    ill = true_positive + false_negative
    return _share(ill, ill + false_positive + true_negative)


def ratio_present(true_positive, false_positive, false_negative, true_negative):
    """LR+ = sensitivity ÷ (1 − specificity) [grimes2005], with its interval; None with an empty cell."""
    return _ratio(true_positive, false_negative, false_positive, true_negative)


def ratio_absent(true_positive, false_positive, false_negative, true_negative):
    """LR− = (1 − sensitivity) ÷ specificity [grimes2005], with its interval; None with an empty cell."""
    return _ratio(false_negative, true_positive, true_negative, false_positive)


def _share(part, whole):
    """A proportion in per cent with the score interval of Wilson; None where nobody was counted."""
    if whole == 0:
        return None
    share = part / whole
    square = Z * Z
    middle = (share + square / (2 * whole)) / (1 + square / whole)
    half = Z * math.sqrt(share * (1 - share) / whole + square / (4 * whole * whole)) / (1 + square / whole)
    return {
        "part": part,
        "whole": whole,
        "share": 100 * share,
        "low": 100 * (middle - half),
        "high": 100 * (middle + half),
    }


def _ratio(ill_with, ill_without, well_with, well_without):
    """The ratio of two shares with its interval by the log method: exp(ln LR ± 1.96 SE)."""
    if min(ill_with, ill_without, well_with, well_without) == 0:
        return None
    ill = ill_with + ill_without
    well = well_with + well_without
    ratio = ill_with / ill / (well_with / well)
    error = math.sqrt(1 / ill_with - 1 / ill + 1 / well_with - 1 / well)
    return {
        "a": ill_with,
        "b": well_with,
        "ill": ill,
        "well": well,
        "ratio": ratio,
        "low": ratio * math.exp(-Z * error),
        "high": ratio * math.exp(Z * error),
    }
