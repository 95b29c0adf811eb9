"""The QT interval corrected for heart rate. RR is the interval between beats in seconds, 60 ÷ heart rate."""

import math


def bazett(qt_ms, heart_rate_per_min):
    """QTc = QT ÷ √RR, ms [bazett1920, quoted in lqtstable2008]."""
    rr = 60 / heart_rate_per_min
    root = math.sqrt(rr)
    return {"qt": qt_ms, "rate": heart_rate_per_min, "rr": rr, "root": root, "corrected": qt_ms / root}


def fridericia(qt_ms, heart_rate_per_min):
    """QTc = QT ÷ ∛RR, ms [fridericia1920, quoted in qtpreprint2020]."""
    rr = 60 / heart_rate_per_min
    root = math.exp(math.log(rr) / 3)
    return {"qt": qt_ms, "rate": heart_rate_per_min, "rr": rr, "root": root, "corrected": qt_ms / root}


def framingham(qt_ms, heart_rate_per_min):
    """QTc = QT + 154 (1 − RR), ms [sagie1992, abstract]."""
    rr = 60 / heart_rate_per_min
    return {"qt": qt_ms, "rate": heart_rate_per_min, "rr": rr, "corrected": qt_ms + 154 * (1 - rr)}


def hodges(qt_ms, heart_rate_per_min):
    """QTc = QT + 1.75 (rate − 60), ms [hodges1983, remembered; held against andrsova2021]."""
    return {"qt": qt_ms, "rate": heart_rate_per_min, "corrected": qt_ms + 1.75 * (heart_rate_per_min - 60)}
