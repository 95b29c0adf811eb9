"""The probability of a condition after bedside findings, in the odds form of Bayes.

The likelihood ratios are those of the handbook's own pages of findings; a test holds the two together.
"""

from calculators.numbers import plain

# What each finding was studied for, and in whom.
QUESTIONS = [
    ["pad-symptoms", "peripheral artery disease, in people with leg symptoms"],
    ["pad-no-symptoms", "peripheral artery disease, in people without leg symptoms"],
    ["tamponade-drainage", "tamponade on echocardiography, in about 46 people having a large effusion drained"],
    ["tamponade-known", "tamponade, in people with a known effusion"],
    ["fibrillation", "atrial fibrillation on a 12-lead ECG"],
    ["right-ventricle-review", "right ventricular infarction, in 469 people with an inferior infarction"],
    ["right-ventricle-catheter", "right ventricular infarction by catheter, in 90 people with a first inferior one"],
    ["pulmonary-pressure", "mean pulmonary artery pressure of 25 mmHg or more, in 116 people at catheterisation"],
    ["aneurysm-3", "an aortic aneurysm of 3.0 cm or more, in people not known to have one"],
    ["stenosis", "aortic stenosis of at least moderate degree"],
    ["wedge", "a wedge pressure of 18 mmHg or more, in 52 people assessed for transplant"],
    ["dissection", "acute thoracic dissection, in people with chest pain in whom it was suspected"],
    ["low-output", "a cardiac index under 2.2 L/min/m², in 50 people with advanced heart failure"],
]

# finding, question, group that shares a mechanism, likelihood ratio, its 95 % interval or None
FINDINGS = [
    ["pulses-abnormal", "pad-symptoms", "leg", 4.7, 2.2, 9.9],
    ["pulses-normal", "pad-symptoms", "leg", 0.38, 0.23, 0.64],
    ["bruit", "pad-symptoms", "leg", 5.6, 4.7, 6.7],
    ["no-bruit", "pad-symptoms", "leg", 0.39, 0.34, 0.45],
    ["cool-skin", "pad-symptoms", "leg", 5.9, 4.1, 8.6],
    ["wounds", "pad-symptoms", "leg", 5.9, 2.6, 13.4],
    ["pulses-abnormal-well", "pad-no-symptoms", "leg", 3.1, 1.4, 6.6],
    ["bruit-well", "pad-no-symptoms", "leg", 4.8, 2.4, 9.5],
    ["neck-veins-raised", "tamponade-drainage", "filling", 5.2, None, None],
    ["neck-veins-not-raised", "tamponade-drainage", "filling", 0.14, None, None],
    ["fast-pulse", "tamponade-drainage", "output", 2.7, None, None],
    ["no-fast-pulse", "tamponade-drainage", "output", 0.18, None, None],
    ["low-systolic", "tamponade-drainage", "output", 1.4, None, None],
    ["paradoxus", "tamponade-known", "paradoxus", 3.3, 1.8, 6.3],
    ["no-paradoxus", "tamponade-known", "paradoxus", 0.03, 0.01, 0.24],
    ["irregular", "fibrillation", "pulse", 5.2, 3.8, 7.2],
    ["regular", "fibrillation", "pulse", 0.1, 0.05, 0.18],
    ["kussmaul", "right-ventricle-review", "filling", 5.8, 2.5, 13.3],
    ["neck-veins-infarction", "right-ventricle-catheter", "filling", 8.4, None, None],
    ["neck-veins-flat-infarction", "right-ventricle-catheter", "filling", 0.086, None, None],
    ["neck-veins-pulmonary", "pulmonary-pressure", "filling", 2.5, 1.2, 5.4],
    ["neck-veins-flat-pulmonary", "pulmonary-pressure", "filling", 0.41, 0.27, 0.63],
    ["aorta-wide", "aneurysm-3", "aorta", 12.0, 7.4, 19.5],
    ["aorta-not-wide", "aneurysm-3", "aorta", 0.72, 0.65, 0.81],
    ["slow-carotid", "stenosis", "carotid", 9.04, 3.12, 25.44],
    ["neck-test-positive", "wedge", "filling", 4.1, None, None],
    ["neck-test-negative", "wedge", "filling", 0.24, None, None],
    ["pulse-deficit", "dissection", "pulse", 5.7, 1.4, 23.0],
    ["narrow-pressure", "low-output", "pressure", 5.4, None, None],
    ["wide-pressure", "low-output", "pressure", 0.11, None, None],
]

# No bedside sign makes a condition certain: nothing beyond these is shown, in per cent.
LEAST = 0.1
MOST = 99.9


def refusal(first, second):
    """Why two findings cannot be chained, or "". first, second: ids of findings, second may be None."""
    if second is None:
        return ""
    if first == second:
        return "The same finding was chosen twice. It counts once: leave the second empty."
    _, question, group, _, _, _ = _row(first)
    _, other_question, other_group, _, _, _ = _row(second)
    if question != other_question:
        about = "The first was studied for " + _in_words(question) + ". "
        about = about + "The second was studied for " + _in_words(other_question) + ". "
        return about + "Ratios of different targets or different people cannot be multiplied: use one of them."
    if group == other_group:
        return (
            "These two share a mechanism: whoever has one tends to have the other, so multiplying them would "
            "overstate what they prove. Use the stronger one alone."
        )
    return ""


def percent_after(before_percent, ratio):
    """Odds after = odds before × likelihood ratio, back as a percentage [richardson2008, introduction]."""
    odds = ratio * before_percent / (100 - before_percent)
    return 100 * odds / (1 + odds)


def after(before_percent, first, second):
    """The probability after one finding, or two, in per cent, held between LEAST and MOST.

    before_percent: above 0 and below 100. low and high carry the interval of a single finding through; where none
    was published, and for two findings, they are the result. `bare` is 1 where a single finding has no interval,
    `chained` where two were multiplied.
    """
    _, question, _, ratio, lowest, highest = _row(first)
    terms = plain(ratio)
    if second is not None:
        _, _, _, other, _, _ = _row(second)
        ratio = ratio * other
        terms = terms + " × " + plain(other)
        lowest = None
    exact = percent_after(before_percent, ratio)
    found = _held(exact)
    rest = 100 - before_percent
    return {
        "about": _in_words(question),
        "before": before_percent,
        "rest": rest,
        "odds": before_percent / rest,
        "terms": terms,
        "ratio": ratio,
        "odds_after": ratio * before_percent / rest,
        "exact": exact,
        "probability": found,
        "low": found if lowest is None else _held(percent_after(before_percent, lowest)),
        "high": found if lowest is None else _held(percent_after(before_percent, highest)),
        "bare": int(lowest is None and second is None),
        "held": int(found != exact),
        "chained": int(second is not None),
    }


def _held(percent):
    return min(max(percent, LEAST), MOST)


def _row(finding):
    for row in FINDINGS:
        if row[0] == finding:
            return row
    raise ValueError("there is no finding " + finding)


def _in_words(question):
    for name, words in QUESTIONS:
        if name == question:
            return words
    raise ValueError("there is no question " + question)
