"""Curves against time: what is drawn early is early, what is drawn tall is tall, on the scale the figure states."""

from __future__ import annotations

import re
from itertools import groupby, pairwise
from xml.etree import ElementTree

import pytest

from build_tools import figures
from build_tools.figures import arteries, cycle, jugular, murmurs, splitting, timing, traces
from calculators.models import pulses

SVG = "{http://www.w3.org/2000/svg}"
Points = list[tuple[float, float]]


def curves(picture: str, name: str) -> list[Points]:
    """Give the nodes of each smooth curve with a class name."""
    found = []
    for element in ElementTree.fromstring(picture).iter(f"{SVG}path"):
        if name in (element.get("class") or "").split():
            numbers = [float(one) for one in re.findall(r"-?[\d.]+", element.get("d") or "")]
            pairs = list(zip(numbers[::2], numbers[1::2], strict=True))
            found.append(pairs[:1] + pairs[3::3])
    return found


def _sheet(drawn: str) -> str:
    return f'<svg xmlns="http://www.w3.org/2000/svg">{drawn}</svg>'


def boxes(picture: str, name: str) -> list[dict[str, float]]:
    """Give x, y, width and height of each rectangle with a class name."""
    return [
        {key: float(one.get(key) or 0) for key in ("x", "y", "width", "height")}
        for one in ElementTree.fromstring(picture).iter(f"{SVG}rect")
        if name in (one.get("class") or "").split()
    ]


@pytest.mark.parametrize(
    ("rate", "share"), [(50, 0.326), (60, 0.370), (75, 0.423), (80, 0.437), (100, 0.477), (120, 0.488)]
)
def test_systole_has_the_share_that_the_regression_gives(rate: float, share: float) -> None:
    assert timing.beat(rate).systole_share == pytest.approx(share, abs=0.0005)


def test_systole_agrees_with_what_doppler_measured_at_75_a_minute() -> None:
    """Measured in 200 healthy adults: 330 ms, standard deviation 42 (bachani2025, abstract)."""
    assert abs(timing.beat(75).systole - 330) < 42


@pytest.mark.parametrize("rate", [20, 180])
def test_a_rate_that_nobody_measured_at_rest_is_refused(rate: float) -> None:
    with pytest.raises(ValueError, match="from 30 to 140"):
        timing.beat(rate)


@pytest.mark.parametrize("rate", [60.0, 75.0, 100.0])
def test_the_drawn_systole_has_that_share_of_the_drawn_beat(rate: float) -> None:
    one = timing.beat(rate)
    drawn = cycle.cardiac_cycle("p", rate)
    shaded = max(boxes(drawn, "drawn-systole"), key=lambda box: box["width"])
    unit = (336 - cycle.AXIS) / (one.length + 260)
    assert shaded["width"] / (one.length * unit) == pytest.approx(one.systole_share, abs=0.001)
    sounds = sorted(box["x"] for box in boxes(drawn, "trace-sound") if box["height"] > 20)
    assert sounds == pytest.approx([shaded["x"], shaded["x"] + shaded["width"]], abs=0.02)


def test_between_the_valves_both_are_shut() -> None:
    drawn = cycle.cardiac_cycle("p")
    aortic = boxes(drawn, "drawn-aortic-open")[0]
    before, after = boxes(drawn, "drawn-mitral-open")
    unit = (336 - cycle.AXIS) / (800 + 260)
    assert before["x"] + before["width"] < aortic["x"]
    gap = after["x"] - (aortic["x"] + aortic["width"])
    assert gap / unit == pytest.approx(timing.MITRAL_OPENING, abs=0.1)


def test_bars_of_systole_are_to_scale_at_each_rate() -> None:
    drawn = cycle.systole_and_rate("p")
    for rate, systole, diastole in zip(
        cycle.RATES, boxes(drawn, "drawn-systole-bar"), boxes(drawn, "drawn-diastole-bar"), strict=True
    ):
        share = systole["width"] / (systole["width"] + diastole["width"])
        assert share == pytest.approx(timing.beat(rate).systole_share, abs=0.001)


def test_a_curve_never_overshoots_its_turning_points() -> None:
    strip = traces.Strip(0, 100, 0, 100)
    drawn = traces.curve([(0, 0), (10, 9), (12, 9), (90, 1)], strip, float, "c")
    heights = [float(y) for _, y in re.findall(r"(-?[\d.]+) (-?[\d.]+)", drawn)]
    assert min(heights) >= 0 and max(heights) <= 9


@pytest.mark.parametrize("name", arteries.PULSES)
def test_a_pulse_is_as_tall_as_its_pressures_say(name: str) -> None:
    drawn = arteries.one_pulse("p", name) if name != "normal" else arteries.pulse_shapes("p")
    curve = curves(drawn, "trace-pulse")[0 if name == "normal" else 1]
    high, low = arteries.PULSES[name].pressures[0]
    other = arteries.PULSES[name].pressures[-1]
    tall = max(y for _, y in curve) - min(y for _, y in curve)
    assert tall / arteries.UNIT == pytest.approx(max(high, other[0]) - min(low, other[1]), abs=0.05)


def test_the_drawn_pulse_pressures_fit_the_figures_of_the_pages() -> None:
    def gap(name: str) -> float:
        high, low = arteries.PULSES[name].pressures[0]
        return high - low

    assert gap("normal") == 40
    assert gap("collapsing") >= 80 and arteries.PULSES["collapsing"].pressures[0][1] <= 50
    assert gap("small") < arteries.PULSES["small"].pressures[0][0] / 4, "below a quarter of systolic is narrow"
    assert arteries.PARADOX > 10


def test_a_slow_rising_pulse_peaks_late_and_a_double_one_twice_before_the_valve_shuts() -> None:
    assert max(pulses.SLOW, key=lambda point: point[1])[0] > 2 * max(pulses.ORDINARY, key=lambda point: point[1])[0]
    inside = [part for share, part in pulses.DOUBLE if share <= 1]
    rising = [b > a for a, b in pairwise(inside)]
    assert [up for up, _ in groupby(rising)] == [True, False, True, False]


def test_the_paradox_is_the_distance_between_its_two_lines() -> None:
    drawn = arteries.paradoxical_pulse("p")
    ends = [
        float(y)
        for element in ElementTree.fromstring(drawn).iter(f"{SVG}path")
        if element.get("class") == "drawn-paradox"
        for _, y in re.findall(r"([\d.]+) ([\d.]+)", element.get("d") or "")
    ]
    assert abs(ends[0] - ends[1]) / 2 == pytest.approx(arteries.PARADOX, abs=0.01)
    tops = sorted(y for _, y in curves(drawn, "trace-pulse")[0])
    assert tops[0] == pytest.approx(min(ends), abs=0.02), "the tallest beat reaches the upper line"


def test_the_waves_of_the_neck_stand_in_order_around_the_sounds() -> None:
    one = jugular.BEAT
    at = {name: time for name, (time, _) in jugular.vein_points(jugular.PATTERNS["normal"], (0.0,), one)}
    assert at["a"] < one.first_sound < one.aortic_opening <= at["c"] + 5
    assert at["c"] < at["x"] < one.second_sound < at["v"] < at["y"]
    heights = {name: value for name, (_, value) in jugular.vein_points(jugular.PATTERNS["normal"], (0.0,), one)}
    assert heights["a"] > heights["v"] > heights["y"] > heights["x"]


def test_the_abnormal_waves_are_what_their_names_say() -> None:
    patterns = {name: pattern.heights for name, pattern in jugular.PATTERNS.items()}
    assert patterns["giant-a"]["a"] == 2 * patterns["normal"]["a"]
    assert patterns["no-a"]["a"] is None and jugular.PATTERNS["no-a"].p_waves == ()
    assert patterns["no-y"]["y"] is None and patterns["no-y"]["x_prime"] is not None
    block = jugular.PATTERNS["cannon"]
    points = jugular.vein_points(block, block.beats, block.beat)
    cannons = [point for name, point in points if name == "cannon"]
    plain = [point for name, point in points if name == "a"]
    assert cannons and plain
    for time, height in cannons:
        assert height == 3 * plain[0][1]
        assert any(start + block.beat.first_sound - 40 <= time <= start + block.beat.second_sound
                   for start in block.beats), "a cannon wave comes while the tricuspid valve is shut"


@pytest.mark.parametrize("rate", [40.0, 75.0, 120.0])
def test_the_t_wave_ends_about_with_the_second_sound(rate: float) -> None:
    one = timing.beat(rate)
    strip = traces.Strip(-200, one.second_sound + 100, 0, 1000)
    nodes = curves(_sheet(traces.ecg([0.0], one, strip, 100)), "trace-ecg")[0]
    after_qrs = [x for x, y in nodes if y == 100 and x > strip.x(100)]
    assert strip.x(one.second_sound - 20) < after_qrs[0] <= strip.x(one.second_sound)


def test_fibrillating_atria_ripple_the_base_line_and_leave_no_p_wave() -> None:
    strip = traces.Strip(-100, 1500, 0, 1600)
    one = timing.beat(75)
    nodes = curves(_sheet(traces.ecg([0.0, 900.0], one, strip, 100, 20, ())), "trace-ecg")[0]
    rest = [y for x, y in nodes if strip.x(one.second_sound) < x < strip.x(890)]
    assert len(rest) >= 5 and all(0 < abs(y - 100) < 2 for y in rest)


def test_the_neck_veins_and_the_sounds_share_one_axis() -> None:
    drawn = jugular.normal_waves("p")
    shaded = boxes(drawn, "drawn-systole")
    sounds = [box["x"] for box in boxes(drawn, "trace-sound")]
    assert sounds[:2] == pytest.approx([shaded[0]["x"], shaded[0]["x"] + shaded[0]["width"]], abs=0.02)


def test_the_split_is_as_wide_as_the_published_means() -> None:
    drawn = splitting.splitting("p")
    aortic = [box["x"] for box in boxes(drawn, "sound-a2")]
    pulmonary = [box["x"] for box in boxes(drawn, "sound-p2")]
    gaps = [(p - a) / splitting.STRIP.unit for a, p in zip(aortic, pulmonary, strict=True)]
    assert gaps[0] == pytest.approx(10.6, abs=0.05)
    assert gaps[1] == pytest.approx(10.6 + 37.8, abs=0.05)
    assert gaps[3] - gaps[2] == pytest.approx(37.8, abs=0.05), "wide, but it moves as in health"
    assert gaps[4] == pytest.approx(50.2, abs=0.05) and 0 <= gaps[5] - gaps[4] <= 10
    assert gaps[6] < gaps[7] <= 0, "reversed: the pulmonary part first, and closer on breathing in"


def test_the_ladder_is_to_scale() -> None:
    drawn = splitting.early_diastolic_sounds("p")
    for (_, low, high, _), box in zip(splitting.LADDER, boxes(drawn, "drawn-ladder"), strict=True):
        unit = (326 - 30) / 200
        assert [(box["x"] - 30) / unit, box["width"] / unit] == pytest.approx([low, high - low], abs=0.05)


@pytest.mark.parametrize("name", murmurs.MURMURS)
def test_a_murmur_lies_where_its_timing_says(name: str) -> None:
    murmur = murmurs.MURMURS[name]
    drawn = murmurs.one_murmur("p", (name,), "t")
    first, second, following = (box["x"] for box in boxes(drawn, "trace-sound")[:3])
    for envelope, outline in zip(murmur.envelopes, _outlines(drawn), strict=True):
        for share, x in ((envelope[0][0], min(outline)), (envelope[-1][0], max(outline))):
            wanted = first + share * (second - first) if share <= 1 else second + (share - 1) * (following - second)
            assert x == pytest.approx(wanted, abs=0.05)


def _outlines(drawn: str) -> list[list[float]]:
    return [
        [float(x) for x, _ in re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", element.get("d") or "")]
        for element in ElementTree.fromstring(drawn).iter(f"{SVG}path")
        if "trace-murmur" in (element.get("class") or "")
    ]


@pytest.mark.parametrize("name", figures.names())
def test_nothing_is_drawn_beside_the_sheet(name: str) -> None:
    """Words are measured at the usual mean width of a letter."""
    root = ElementTree.fromstring(figures.draw(name, "p"))
    _, _, width, height = map(float, (root.get("viewBox") or "").split())
    for one in root.iter(f"{SVG}text"):
        wide = len(one.text or "") * float(one.get("font-size") or 12) * (0.55 if one.get("font-weight") else 0.5)
        x, y = float(one.get("x") or 0), float(one.get("y") or 0)
        left = x - {"end": wide, "middle": wide / 2}.get(one.get("text-anchor") or "", 0)
        assert left >= -3 and left + wide <= width + 4, f'"{one.text}" reaches beyond the sheet'
        assert 8 <= y <= height, f'"{one.text}" stands above or below the sheet'
