"""The wave laboratory's model: what must hold of its traces, whatever is chosen."""

from __future__ import annotations

import json
from itertools import pairwise
from typing import Any

import pytest

from build_tools.laboratories import model_for_door
from calculators import door
from calculators.models import curves, cycle, murmurs, phonocardiogram, pulses, rhythms, veins, wave_laboratory
from tests.whole import BOOK

DATA = model_for_door(BOOK, "wave_laboratory")
CONDITIONS = [row["id"] for row in DATA["conditions"]]
RHYTHMS = {row["id"]: row for row in DATA["rhythms"]}
door.load(json.dumps(DATA))

Answer = dict[str, Any]


def ask(condition: str = "normal", rhythm: str = "regular", breathing: str = "held", rate: int = 75,
        first: int = 0, until: int = 10000) -> Answer:
    answer: Answer = json.loads(door.answer(json.dumps({
        "model": "wave_laboratory", "condition": condition, "rhythm": rhythm, "breathing": breathing,
        "rate": str(rate), "from": str(first), "until": str(until),
    })))
    return answer


def lane(answer: Answer, name: str) -> list[float]:
    """Give the samples of a lane in its own unit."""
    [found] = [one for one in answer["lanes"] if one["id"] == name]
    return [sample / found["scale"] for sample in found["samples"]]


def within(answer: Answer, name: str, start: float, end: float) -> list[float]:
    """Give the samples of a lane between two times."""
    step = answer["step"]
    return lane(answer, name)[max(0, int(start - answer["from"]) // step):int(end - answer["from"]) // step + 1]


def marks(answer: Answer, name: str, words: str) -> list[int]:
    return [mark["at"] for mark in answer["marks"] if mark["lane"] == name and mark["words"] == words]


def whole_tape(rhythm: str, rate: int, condition: str = "normal", breathing: str = "held") -> Answer:
    """Give all beats and marks of the minute."""
    parts = [ask(condition, rhythm, breathing, rate, at, at + 10000) for at in range(0, 60000, 10000)]
    return {name: [one for part in parts for one in part[name]] for name in ("beats", "marks")}


@pytest.mark.parametrize("rate", range(40, 141, 10))
def test_systole_has_the_share_that_the_regression_gives(rate: int) -> None:
    answer = ask(rate=rate)
    for beat in answer["beats"][:4]:
        share = (beat["second"] - beat["first"]) / (beat["until"] - beat["start"])
        assert share == pytest.approx((546 - 2.1 * rate - 50) * rate / 60000, abs=0.004)
    seconds = marks(answer, "sounds", "S2")
    shaded = [beat["second"] for beat in answer["beats"]]
    for mark in seconds[1:4]:
        assert min(abs(mark - second) for second in shaded) <= phonocardiogram.WIDTHS["A2"] / 2 + 1


@pytest.mark.parametrize("rate", [30, 40, 45, 60])
def test_in_block_a_cannon_wave_leaps_only_where_the_valve_is_shut(rate: int) -> None:
    tape = whole_tape("block", rate)
    cannons, plain = marks(tape, "veins", "cannon"), marks(tape, "veins", "a")
    assert cannons and plain
    shut = [(beat["first"], beat["second"]) for beat in tape["beats"]]
    for at in cannons:
        assert any(first - 1 <= at + 40 <= second + 1 for first, second in shut), at
    for at in plain:
        assert not any(first + 1 < at + 40 < second - 1 for first, second in shut), at
    gaps = {round((b - a) / 10) for a, b in pairwise(sorted([*cannons, *plain]))}
    assert gaps == {round(rhythms.ATRIAL_INTERVAL / 10)}, "the atria keep their own time"


def test_every_beat_keeps_its_r_wave_wherever_a_p_wave_falls() -> None:
    answer = ask(rhythm="block", rate=40)
    for beat in answer["beats"]:
        assert max(within(answer, "ecg", beat["start"], beat["start"] + 90)) > 0.95


def test_a_cannon_wave_stands_three_times_as_tall_as_a_healthy_a_wave() -> None:
    answer = ask(rhythm="block", rate=40)
    [tall, *_] = marks(answer, "veins", "cannon")
    assert max(within(answer, "veins", tall - 5, tall + 5)) == pytest.approx(3 * veins.NORMAL["a"], abs=0.02)
    told = [beat["told"] for beat in answer["beats"] if beat["start"] - 250 < tall < beat["until"] - 250]
    assert told and "Cannon a wave" in told[0]


@pytest.mark.parametrize("condition", CONDITIONS)
def test_fibrillation_has_no_a_wave_no_p_wave_and_nothing_that_the_atria_do(condition: str) -> None:
    answer = ask(condition, "fibrillation", rate=80)
    assert not marks(answer, "veins", "a") and not marks(answer, "veins", "cannon")
    assert not marks(answer, "sounds", "S4")
    quiet = ask("normal", "fibrillation", rate=80)
    for beat in quiet["beats"]:
        before = within(quiet, "ecg", beat["start"] - 150, beat["start"] - 90)
        assert all(abs(sample) < 0.1 for sample in before), "a P wave would stand here"


@pytest.mark.parametrize("rate", range(40, 141, 10))
def test_fibrillation_spreads_its_intervals_over_the_stated_range_and_keeps_the_rate(rate: int) -> None:
    beats = whole_tape("fibrillation", rate)["beats"]
    intervals = [beat["until"] - beat["start"] for beat in beats]
    mean, wide = 60000 / rate, rhythms.spread(rate)
    assert all((1 - wide) * mean - 1 <= one <= (1 + wide) * mean + 1 for one in intervals)
    assert sum(intervals) / len(intervals) == pytest.approx(mean, rel=0.1)
    if rate <= 70:
        assert wide == rhythms.SPREAD
    # They are no pattern: neither even nor alternating, and nearly all of the range is used.
    assert max(intervals) - min(intervals) > 1.4 * wide * mean
    longer = [b > a for a, b in pairwise(intervals)]
    assert len({tuple(longer[place:place + 3]) for place in range(len(longer) - 2)}) >= 5
    for beat in beats:
        assert beat["until"] - beat["second"] >= rhythms.LEAST_DIASTOLE - 2


def test_in_fibrillation_a_short_interval_is_followed_by_a_weak_beat() -> None:
    answer = ask(rhythm="fibrillation", rate=90)
    beats = answer["beats"]
    tops = {
        after["start"] - before["start"]: max(within(answer, "pulse", after["start"], after["until"]))
        for before, after in pairwise(beats[:-1])
    }
    ordered = [tops[interval] for interval in sorted(tops)]
    assert ordered == sorted(ordered)
    assert ordered[-1] - ordered[0] > 15


def test_an_ectopic_beat_is_early_weak_and_without_p_wave_and_a_full_pause_follows() -> None:
    answer = ask(rhythm="ectopic", rate=75)
    beats = answer["beats"]
    [place] = [number for number, beat in enumerate(beats[:7]) if "from a ventricle" in beat["told"]]
    before, early, after = beats[place - 1:place + 2]
    assert early["start"] - before["start"] == pytest.approx(rhythms.COUPLING * 800, abs=1)
    assert after["start"] - before["start"] == pytest.approx(1600, abs=1), "fully compensated"
    top = {beat["start"]: max(within(answer, "pulse", beat["start"], beat["until"])) for beat in beats[:7]}
    assert top[early["start"]] < top[before["start"]] - 10 < top[after["start"]] - 10
    [cannon] = [at for at in marks(answer, "veins", "cannon") if at < 5000]
    assert early["first"] < cannon < early["second"], "the atria beat in its systole"
    # At a slow rate the T wave before it is over where its P wave would stand.
    slow = ask(rhythm="ectopic", rate=50)
    [early, *_] = [beat for beat in slow["beats"] if "from a ventricle" in beat["told"]]
    assert max(within(slow, "ecg", early["start"] - 160, early["start"] - 10)) < 0.05


def test_a_murmur_of_obstruction_grows_after_the_pause_and_one_of_leakage_does_not() -> None:
    def loudest(condition: str) -> tuple[float, float]:
        answer = ask(condition, "ectopic")
        [place] = [number for number, beat in enumerate(answer["beats"][:7]) if "from a ventricle" in beat["told"]]
        usual, after = answer["beats"][place - 1], answer["beats"][place + 1]
        high = [
            max(within(answer, "sounds", beat["first"] + 80, beat["second"] - 10)) for beat in (usual, after)
        ]
        return high[0], high[1]

    for condition in ("aortic-stenosis", "hypertrophic-cardiomyopathy"):
        usual, after = loudest(condition)
        assert after > 1.15 * usual
    usual, after = loudest("mitral-regurgitation")
    assert after == pytest.approx(usual, rel=0.1)


def test_the_pulse_of_obstructed_hypertrophy_does_not_grow_after_the_pause() -> None:
    def tops(condition: str) -> tuple[float, float]:
        answer = ask(condition, "ectopic")
        [place] = [number for number, beat in enumerate(answer["beats"][:7]) if "from a ventricle" in beat["told"]]
        pair = [answer["beats"][place - 1], answer["beats"][place + 1]]
        found = [max(within(answer, "pulse", beat["start"], beat["until"])) for beat in pair]
        return found[0], found[1]

    usual, after = tops("hypertrophic-cardiomyopathy")
    assert after == pytest.approx(usual, abs=0.5)
    usual, after = tops("aortic-stenosis")
    assert after > usual + 4


def test_strong_and_weak_beats_take_turns_at_an_even_rhythm_only() -> None:
    answer = ask("left-ventricular-failure", rate=100)
    tops = [max(within(answer, "pulse", beat["start"], beat["until"])) for beat in answer["beats"][:8]]
    assert tops[::2] == pytest.approx([tops[0]] * 4, abs=0.2) and tops[1::2] == pytest.approx([tops[1]] * 4, abs=0.2)
    assert abs(tops[0] - tops[1]) == pytest.approx(20, abs=0.2)
    intervals = {beat["until"] - beat["start"] for beat in answer["beats"][:8]}
    assert max(intervals) - min(intervals) <= 1
    told = ask("left-ventricular-failure", "fibrillation", rate=100)["told"][1]
    assert "at a regular rhythm only" in told


@pytest.mark.parametrize(("condition", "least", "most"), [("normal", 0, 5), ("cardiac-tamponade", 10, 30)])
def test_the_systolic_pressure_falls_on_breathing_in_as_far_as_the_sign_says(
    condition: str, least: float, most: float
) -> None:
    quiet = ask(condition, breathing="quiet", rate=110, until=10000)
    tops = [max(within(quiet, "pulse", beat["start"], beat["until"])) for beat in quiet["beats"][:-1]]
    assert least < max(tops) - min(tops) <= most
    held = ask(condition, breathing="held", rate=110)
    tops = [max(within(held, "pulse", beat["start"], beat["until"])) for beat in held["beats"][:-1]]
    assert max(tops) - min(tops) < 0.3, "without breathing there is no paradox"
    lows = [min(within(quiet, "pulse", beat["start"], beat["until"])) for beat in quiet["beats"][:-1]]
    assert max(lows) - min(lows) < 0.3, "the foot stays where it is"


@pytest.mark.parametrize(("condition", "direction"), [("normal", -1), ("tricuspid-regurgitation", 0),
                                                      ("constrictive-pericarditis", 1)])
def test_the_venous_level_follows_the_breath_as_the_condition_says(condition: str, direction: int) -> None:
    answer = ask(condition, breathing="quiet", rate=60, until=8000)
    # Four whole beats a breath: out at 0 and 4 s, in at 2 s. Compare one moment of the beat.
    out, into = lane(answer, "veins")[::200][0], lane(answer, "veins")[::200][2]
    assert (into > out) - (into < out) == direction


@pytest.mark.parametrize(("condition", "breathing", "gap"), [
    ("normal", "held", 10.6), ("normal", "deep", 10.6 + 37.8), ("atrial-septal-defect", "held", 50.2),
    ("atrial-septal-defect", "deep", 55.2),
])
def test_the_second_sound_splits_as_published(condition: str, breathing: str, gap: float) -> None:
    fixed = condition == "atrial-septal-defect"
    depth = {"held": 0.0, "deep": 1.0}[breathing]
    aortic, pulmonary = phonocardiogram.split(depth, fixed)
    assert pulmonary - aortic == pytest.approx(gap)
    [row] = [row for row in DATA["breathing"] if row["id"] == breathing]
    assert row["split"] == depth


def test_the_sounds_swing_when_they_should_and_are_silent_between() -> None:
    answer = ask(rate=60, until=6000)
    for beat in answer["beats"][1:5]:
        assert max(within(answer, "sounds", beat["first"], beat["first"] + 70)) > 0.8
        assert max(within(answer, "sounds", beat["second"], beat["second"] + 40)) > 0.5
        assert set(within(answer, "sounds", beat["first"] + 80, beat["second"] - 10)) == {0}
        assert set(within(answer, "sounds", beat["second"] + 70, beat["until"] + 40)) == {0}


@pytest.mark.parametrize(("condition", "name"), [
    ("aortic-stenosis", "aortic-stenosis"), ("aortic-regurgitation", "aortic-regurgitation"),
    ("mitral-stenosis", "mitral-stenosis"), ("tricuspid-regurgitation", "tricuspid-regurgitation"),
])
def test_a_murmur_sounds_within_its_envelope_and_nowhere_else(condition: str, name: str) -> None:
    answer = ask(condition, rate=60, until=6000)
    row = murmurs.MURMURS[name]
    beat = answer["beats"][2]
    systole, diastole = beat["second"] - beat["first"], beat["until"] + 50 - beat["second"]

    def at(share: float) -> float:
        return beat["first"] + share * systole if share <= 1 else beat["second"] + (share - 1) * diastole

    for envelope in [*row["envelopes"], *row["presystolic"]]:
        for (t0, y0), (t1, y1) in pairwise(envelope):
            middle = (at(t0) + at(t1)) / 2
            heard = max(within(answer, "sounds", middle - 30, middle + 30))
            assert 0.5 * (y0 + y1) / 2 < heard < 1.3 * max(y0, y1)
    spans = [(envelope[0][0], envelope[-1][0]) for envelope in [*row["envelopes"], *row["presystolic"]]]
    free = [share / 100 for share in range(200)
            if 90 < at(share / 100) - beat["first"] < systole - 15 or at(share / 100) > beat["second"] + 130]
    silent = [share for share in free if not any(a - 0.03 <= share <= b + 0.03 for a, b in spans)]
    assert all(abs(sample) < 1e-9 for share in silent for sample in within(answer, "sounds", at(share), at(share)))


@pytest.mark.parametrize("condition", CONDITIONS)
@pytest.mark.parametrize("rhythm", RHYTHMS)
def test_every_choice_stays_on_its_scale_at_every_rate(condition: str, rhythm: str) -> None:
    low, high = RHYTHMS[rhythm]["rates"]
    for rate in (low, (low + high) // 2, high):
        for breathing in ("quiet", "deep"):
            answer = ask(condition, rhythm, breathing, rate, 0, 8000)
            assert answer["state"] == "answer"
            for one in answer["lanes"]:
                assert one["low"] <= min(one["samples"]) and max(one["samples"]) <= one["high"], (one["id"], rate)
                assert len(one["samples"]) == 8000 // answer["step"]
                assert all(isinstance(sample, int) for sample in one["samples"])
                assert all(one["low"] < tick * one["scale"] < one["high"] for tick in one["ticks"])


@pytest.mark.parametrize("rhythm", RHYTHMS)
def test_a_stretch_is_the_same_whoever_asks_and_stretches_meet(rhythm: str) -> None:
    whole = ask("mitral-stenosis", rhythm, "quiet", 50, 20000, 28000)
    parts = [ask("mitral-stenosis", rhythm, "quiet", 50, at, at + 2000) for at in range(20000, 28000, 2000)]
    for place, one in enumerate(whole["lanes"]):
        assert one["samples"] == [sample for part in parts for sample in part["lanes"][place]["samples"]]
    for name in ("beats", "breaths_in"):
        assert whole[name] == [each for part in parts for each in part[name]]
    assert sorted(map(str, whole["marks"])) == sorted(str(each) for part in parts for each in part["marks"])


def test_odd_requests_are_refused_in_words_or_brought_within_the_tape() -> None:
    assert ask("no-such")["problem"] == "The laboratory knows no such condition. Choose one of its list."
    assert ask(rate=141)["problem"] == "Choose a rate from 40 to 140 a minute for this rhythm."
    assert ask(rhythm="block", rate=75)["state"] == "refused"
    assert ask(first=70000, until=80000)["until"] == wave_laboratory.TAPE
    assert ask(until=999999)["until"] == wave_laboratory.LONGEST
    for odd in ({"rate": 75}, {"rate": None}, {"rate": "abc"}, {"condition": ["normal"]}, {"rhythm": {}}):
        request = {"model": "wave_laboratory", "condition": "normal", "rhythm": "regular", "breathing": "quiet",
                   "rate": "75", "from": "0", "until": "1000", **odd}
        assert json.loads(door.answer(json.dumps(request)))["state"] == "refused"
    request = {"model": "wave_laboratory", "condition": "normal", "rhythm": "regular", "breathing": "quiet",
               "rate": "75", "from": "-5", "until": {}}
    assert json.loads(door.answer(json.dumps(request)))["until"] == wave_laboratory.STEP


def test_what_the_traces_rest_on_is_said_for_every_choice() -> None:
    for group in ("conditions", "rhythms", "breathing"):
        for row in DATA[group]:
            source = row["source"]
            assert "[" in source or "our choice" in source.casefold(), row["id"]
    for row in DATA["conditions"]:
        assert row["pulse"] == "paradoxical" or row["pulse"] in pulses.PULSES
        assert row["veins"] in veins.PATTERNS
        # The healthy pulse is accounted for once, in the row of the healthy heart.
        if row["pulse"] not in ("normal", "paradoxical") or row["id"] == "normal":
            for high, low in pulses.PULSES[row["pulse"]]["pressures"]:
                assert f"{high:g}" in row["source"], f"{row['id']}: {high:g}/{low:g} is drawn and not accounted for"


def test_a_curve_passes_through_its_points_and_never_beyond_them() -> None:
    points = [(0.0, 0.0), (10.0, 5.0), (14.0, 5.0), (40.0, -2.0), (41.0, 3.0)]
    found = curves.sampled(points, 0.0, 1.0, 42)
    assert [found[int(x)] for x, _ in points] == [y for _, y in points]
    assert max(found) == 5.0 and min(found) == -2.0
    for (x0, y0), (x1, y1) in pairwise(points):
        between = found[int(x0):int(x1) + 1]
        assert between == sorted(between, reverse=y1 < y0)


def test_the_first_sound_of_block_is_loud_when_the_p_wave_stands_near() -> None:
    beats = wave_laboratory.tape({
        "condition": DATA["conditions"][0], "rhythm": RHYTHMS["block"], "breathing": DATA["breathing"][2],
        "rate": 40, "pulse": pulses.PULSES["normal"],
    })
    loud = {}
    for beat in beats["beats"][3:]:
        gaps = [beat["start"] - at for at in beats["own_p_waves"] if at <= beat["start"]]
        loud[min(gaps)] = beat["first"]
    ordered = [loud[gap] for gap in sorted(loud) if gap > wave_laboratory.NEAR]
    assert ordered == sorted(ordered, reverse=True)
    assert loud[min(loud)] == wave_laboratory.LOUD and loud[max(loud)] == wave_laboratory.SOFT
    assert cycle.RATES[0] <= 40
