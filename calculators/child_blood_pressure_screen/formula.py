"""Screening limits of blood pressure from 1 to 17 years."""

# Age in years, boys' systolic and diastolic, girls' systolic and diastolic [flynn2017, Table 6, quoted in texas2023].
LIMITS = [
    [1, 98, 52, 98, 54],
    [2, 100, 55, 101, 58],
    [3, 101, 58, 102, 60],
    [4, 102, 60, 103, 62],
    [5, 103, 63, 104, 64],
    [6, 105, 66, 105, 67],
    [7, 106, 68, 106, 68],
    [8, 107, 69, 107, 69],
    [9, 107, 70, 108, 71],
    [10, 108, 72, 109, 72],
    [11, 110, 74, 111, 74],
    [12, 113, 75, 114, 75],
    [13, 120, 80, 120, 80],
]


def screen(age_years, sex, systolic_mmhg, diastolic_mmhg):
    """The limits at this age, mmHg, and how far the reading lies over them [flynn2017, Table 6].

    `far_over`: under 13 years and more than 30 mmHg over. The limit is no higher than the 95th centile, so a
    reading more than 30 mmHg above that centile [macneill2019] is always among these.
    `very_high`: 180/120 mmHg or more from 13 years on, as in adults [jones2025].
    """
    row = [limits for limits in LIMITS if limits[0] <= age_years][-1]
    systolic, diastolic = (row[1], row[2]) if sex == "boy" else (row[3], row[4])
    young = age_years < LIMITS[-1][0]
    systolic_over = systolic_mmhg - systolic
    diastolic_over = diastolic_mmhg - diastolic
    return {
        "age": row[0],
        "systolic_limit": systolic,
        "diastolic_limit": diastolic,
        "systolic": systolic_mmhg,
        "diastolic": diastolic_mmhg,
        "systolic_over": systolic_over,
        "diastolic_over": diastolic_over,
        "far_over": young and max(systolic_over, diastolic_over) > 30,
        "very_high": not young and (systolic_mmhg >= 180 or diastolic_mmhg >= 120),
    }


def from_thirteen(age_years, systolic_mmhg, diastolic_mmhg):
    """The reading itself from 13 years on, when fixed limits hold [flynn2017, Table 3]; None before."""
    if age_years < LIMITS[-1][0]:
        return None
    return {"systolic": systolic_mmhg, "diastolic": diastolic_mmhg}
