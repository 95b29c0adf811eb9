"""Murmurs: when they start, how they swell and fade, and the sounds that belong to them.

Starts, ends and peaks as shares of systole or diastole: tavel1985, from memory. Loudness is a share of a drawn
height, ours for teaching.
"""


def _diamond(start, peak, end, loud):
    return [(start, 0.0), (peak, loud), (end, 0.0)]


# By name. `envelopes`: lists of (time, loudness); time 0 is the first sound, 1 the second, 2 the next first sound.
# `first`, `second`: loudness of the heart sounds; `click` at its time; `snap` ms after the second sound; `third`: a
# third sound; `presystolic`: what the beat of the atria adds, gone when they fibrillate.
PLAIN = {"envelopes": [], "presystolic": [], "click": None, "snap": None, "first": 1.0, "second": 1.0, "third": False}


def _murmur(entries):
    murmur = dict(PLAIN)
    for entry in entries:
        murmur[entry] = entries[entry]
    return murmur


MURMURS = {
    "innocent": _murmur({"envelopes": [_diamond(0.15, 0.35, 0.6, 0.45)]}),
    "aortic-stenosis": _murmur({"envelopes": [_diamond(0.15, 0.65, 0.95, 1.0)], "second": 0.5}),
    "hypertrophic": _murmur({"envelopes": [_diamond(0.2, 0.65, 0.95, 0.85)]}),
    "mitral-regurgitation": _murmur({"envelopes": [[(0, 0.6), (1, 0.6)]], "first": 0.6, "third": True}),
    "prolapse": _murmur({"envelopes": [[(0.5, 0.1), (0.9, 0.7), (1, 0.6)]], "click": 0.5}),
    "tricuspid-regurgitation": _murmur({"envelopes": [[(0, 0.5), (1, 0.5)]]}),
    "aortic-regurgitation": _murmur({"envelopes": [[(1.0, 0.5), (1.02, 0.75), (1.95, 0.0)]]}),
    "mitral-stenosis": _murmur({
        "envelopes": [[(1.25, 0.5), (1.55, 0.2), (1.72, 0.15)]], "presystolic": [[(1.75, 0.15), (2.0, 0.7)]],
        "snap": 85.0, "first": 1.25,
    }),
    "continuous": _murmur({"envelopes": [[(0.2, 0.15), (1.0, 0.9), (1.9, 0.1)]]}),
}
