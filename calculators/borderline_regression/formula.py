"""A station's cut score by borderline regression, with the error of the fitted line."""

import math

# With fewer candidates no line is fitted: ours; below the other limit the error was too large [pell2016, abstract].
LEAST = 10
FEW = 50
# The share of the t distribution that the interval spans.
SPAN = 0.95


def unfit(marks):
    """Why these marks give no cut score, or "". marks: [[grade, score], ...]."""
    if len(marks) < LEAST:
        return "There are too few candidates for a line. Use another way to set the standard."
    grades = [grade for grade, score in marks]
    scores = [score for grade, score in marks]
    if min(grades) == max(grades):
        return "All candidates have the same grade, so there is no line. Check that the first column is the grade."
    if min(scores) == max(scores) or _sums(marks)["sxy"] <= 0:
        return (
            "Higher grades do not go with higher scores here, so the line sets no cut score. "
            + "Check the order of the columns, and that a higher grade is the better one."
        )
    return ""


def regression(marks, borderline):
    """Least squares of score on grade; cut = a + b × borderline, b = cov ÷ var [wood2006, abstract].

    Standard error of the predicted mean: s √(1 ÷ n + (borderline − mean grade)² ÷ sxx), s² = squared residuals ÷
    (n − 2); interval by the t distribution [common practice]. marks as for `unfit`; all else in marks.
    """
    fit = _sums(marks)
    slope = fit["sxy"] / fit["sxx"]
    freedom = len(marks) - 2
    residual = 0
    alike = 0
    grades = [grade for grade, score in marks]
    for grade, score in marks:
        off = score - fit["mean_score"] - slope * (grade - fit["mean_grade"])
        residual = residual + off * off
        if grade == borderline:
            alike = alike + 1
    distance = borderline - fit["mean_grade"]
    variance = residual / freedom
    squared = variance * (1 / len(marks) + distance * distance / fit["sxx"])
    error = math.sqrt(squared)
    cut = fit["mean_score"] + slope * distance
    reach = _t(freedom) * error
    inside = min(grades) <= borderline <= max(grades)
    fit["slope"] = slope
    fit["borderline"] = borderline
    fit["cut"] = cut
    fit["variance"] = variance
    fit["squared"] = squared
    fit["error"] = error
    fit["low"] = cut - reach
    fit["high"] = cut + reach
    fit["explained"] = slope * fit["sxy"]
    fit["r_squared"] = slope * fit["sxy"] / fit["syy"]
    fit["alike"] = alike
    fit["few"] = len(marks) < FEW
    fit["outside"] = not inside
    fit["nobody"] = inside and alike == 0
    return fit


def drawn(marks, borderline):
    """Every candidate, the fitted line over all grades, and the cut that it gives for the borderline grade."""
    fit = regression(marks, borderline)
    grades = [grade for grade, score in marks] + [borderline]
    ends = [min(grades), max(grades)]
    line = [fit["cut"] + fit["slope"] * (grade - borderline) for grade in ends]
    scores = [score for grade, score in marks] + line
    return {
        "across": ends,
        "up": [min(scores), max(scores)],
        "points": [["seen", grade, score] for grade, score in marks],
        "lines": [
            ["cut", borderline, None, borderline, fit["cut"]],
            ["cut", None, fit["cut"], borderline, fit["cut"]],
            ["fit", ends[0], line[0], ends[1], line[1]],
        ],
    }


def _sums(marks):
    """Means, and sums of squares and products about them."""
    grades = 0
    scores = 0
    for grade, score in marks:
        grades = grades + grade
        scores = scores + score
    fit = {"n": len(marks), "mean_grade": grades / len(marks), "mean_score": scores / len(marks)}
    sxx = 0
    sxy = 0
    syy = 0
    for grade, score in marks:
        across = grade - fit["mean_grade"]
        up = score - fit["mean_score"]
        sxx = sxx + across * across
        sxy = sxy + across * up
        syy = syy + up * up
    fit["sxx"] = sxx
    fit["sxy"] = sxy
    fit["syy"] = syy
    return fit


def _t(freedom):
    """The t that spans SPAN on both sides, for degrees of freedom from 2: halving an angle whose tangent it is."""
    # The first middles are nothing and the right angle, beyond which no t lies.
    low = -math.pi
    high = math.pi
    for _ in range(50):
        middle = (low + high) / 2
        if _spanned(middle, freedom) < SPAN:
            low = middle
        else:
            high = middle
    return math.sqrt(freedom) * math.tan(low)


def _spanned(angle, freedom):
    """The share of the t distribution within ± √freedom × tan(angle), by its finite series for whole degrees."""
    cosine = math.cos(angle)
    odd = freedom % 2
    term = cosine if odd else 1
    total = term
    for place in range(freedom // 2 - 1):
        factor = 1 + odd + 2 * place
        term = term * cosine * cosine * factor / (factor + 1)
        total = total + term
    area = math.sin(angle) * total
    return 2 / math.pi * (angle + area) if odd else area
