"""Drawings about pressures: levels, cuffs, vessels and ratios are to the scale and the numbers of their sources."""

from __future__ import annotations

import math
import re
from itertools import pairwise
from pathlib import Path

import pytest

from build_tools.figures import ankle_index, atrium, cuffs, neck_front
from build_tools.loading import load_toml
from calculators.ankle_brachial_index.formula import by_higher_ankle
from calculators.central_venous_pressure.formula import COMPUTED_TOMOGRAPHY
from tests.drawn import Point, discs, nodes, strokes

ROOT = Path(__file__).parents[2]


def test_the_atrium_lies_as_far_below_the_sternal_angle_as_the_calculator_takes_it() -> None:
    assert list(atrium.DISTANCES.items()) == [tuple(row) for row in COMPUTED_TOMOGRAPHY]
    drawn = atrium.levels("p")
    levels = {name: strokes(drawn, f"drawn-{name}-level") for name in ("angle", "custom", "atrium")}
    for place, (angle, distance) in enumerate(atrium.DISTANCES.items()):
        (_, zero), (_, custom), (_, middle) = (levels[name][place][0] for name in ("angle", "custom", "atrium"))
        assert (custom - zero) / atrium.SCALE == pytest.approx(5.0, abs=0.01)
        assert (middle - zero) / atrium.SCALE == pytest.approx(distance, abs=0.01)
        assert all(one[place][0][1] == one[place][1][1] for one in levels.values()), "a level line must lie level"
        (x0, y0), (x1, y1) = strokes(drawn, "drawn-trunk")[place]
        assert math.degrees(math.atan2(y0 - y1, x0 - x1)) == pytest.approx(angle, abs=0.05)


def test_the_middle_of_the_atrium_lies_on_its_level_inside_the_trunk() -> None:
    drawn = atrium.levels("p")
    for disc, line in zip(discs(drawn, "drawn-atrium"), strokes(drawn, "drawn-atrium-level"), strict=True):
        assert disc[1] == pytest.approx(line[0][1], abs=0.02)
    for angle in atrium.DISTANCES:
        along, front = atrium.middle_of_atrium(angle)
        assert -10 < along < -6 and front == -5.4


def test_the_cuffs_are_those_of_the_table() -> None:
    rows = next(table["rows"] for table in load_toml(ROOT / "content/values/pulse.toml").data["tables"]
                if table["id"] == "cuff-sizes")
    for cuff, (arm, name, bladder) in zip(cuffs.CUFFS, rows, strict=True):
        assert arm == f"{cuff.arm[0]}\N{EN DASH}{cuff.arm[1]} cm" and name == cuff.name.lower()
        assert bladder == f"{cuff.wide:g} × {cuff.long:g} cm"


def test_bladders_and_arms_are_drawn_on_one_scale() -> None:
    drawn = cuffs.cuff_sizes("p")
    arms = discs(drawn, "drawn-arm")
    boxes = re.findall(r'width="([\d.]+)" height="([\d.]+)"[^>]*drawn-bladder', drawn)
    least = strokes(drawn, "drawn-least-length")
    for cuff, arm, box, line in zip(cuffs.CUFFS, arms, boxes, least, strict=True):
        assert 2 * math.pi * arm[2] / cuffs.SCALE == pytest.approx(cuff.arm[1], abs=0.05)
        assert [float(one) / cuffs.SCALE for one in box] == pytest.approx([cuff.long, cuff.wide], abs=0.01)
        assert (line[0][0] - cuffs.BLADDER_X) / cuffs.SCALE == pytest.approx(0.8 * cuff.arm[1], abs=0.01)
        assert cuff.long >= 0.8 * cuff.arm[1], "the description says that each is long enough"
    assert [cuff.wide >= 0.4 * cuff.arm[1] for cuff in cuffs.CUFFS] == [True, True, False, False]


def test_the_bladder_goes_as_far_round_the_arm_as_it_is_long() -> None:
    ways = re.findall(r'd="M(\S+) (\S+?)A(\S+) \S+ 0 ([01]) 1 (\S+) (\S+)" class="drawn-cuff-line',
                      cuffs.cuff_sizes("p"))
    for cuff, (x0, y0, radius, large, x1, y1) in zip(cuffs.CUFFS, ways, strict=True):
        chord = math.hypot(float(x1) - float(x0), float(y1) - float(y0))
        open_part = 2 * math.asin(chord / 2 / float(radius))
        assert large == "1" and 1 - open_part / (2 * math.pi) == pytest.approx(cuff.long / cuff.arm[1], abs=0.002)


@pytest.mark.parametrize("side", ["right", "left"])
def test_the_ratio_is_the_calculators_own(side: str) -> None:
    wanted = by_higher_ankle(
        [ankle_index.DORSALIS_PEDIS[side], ankle_index.POSTERIOR_TIBIAL[side]], list(ankle_index.ARM.values()))
    assert ankle_index.index(side) == wanted["index"]
    assert f"= {ankle_index.index(side):.2f}<" in ankle_index.ankle_brachial_ratio("p")


def test_three_pressures_are_used_and_three_are_not() -> None:
    drawn = ankle_index.ankle_brachial_ratio("p")
    # One more of each stands in the key.
    assert len(discs(drawn, "drawn-spot")) == len(discs(drawn, "drawn-ring")) == 4


def edge(points: list[Point], up: float) -> float:
    """Give how far from the midline an edge of the muscle lies at a height."""
    (x0, y0), (x1, y1) = next(pair for pair in pairwise(sorted(points, key=lambda one: one[1]))
                              if pair[0][1] <= up <= pair[1][1])
    return x0 + (x1 - x0) * (up - y0) / (y1 - y0)


def test_the_internal_jugular_is_covered_but_between_the_two_heads() -> None:
    """From breastbone_outer to collarbone_inner there is a gap, low in the neck, and the vein lies in it."""
    breastbone_outer, breastbone_inner = neck_front.BREASTBONE_HEAD[1:5], neck_front.BREASTBONE_HEAD[6:]
    collarbone_inner, collarbone_outer = neck_front.COLLARBONE_HEAD[6:], neck_front.COLLARBONE_HEAD[1:5]
    for side, up in neck_front.INTERNAL:
        if up == 3.4:
            assert edge(breastbone_outer, up) < side < edge(collarbone_inner, up)
        elif 6 < up < 10:
            assert edge(breastbone_inner, up) < side < edge(collarbone_outer, up)
    assert edge(collarbone_inner, 7.0) < edge(breastbone_outer, 7.0), "higher up the heads lie over one another"


def test_the_carotid_lies_nearer_the_midline_than_the_internal_jugular() -> None:
    for (x, y), (x2, y2) in pairwise(neck_front.INTERNAL):
        for side, up in neck_front.CAROTID:
            if y2 <= up <= y:
                assert side < x2 + (x - x2) * (up - y2) / (y - y2)


def test_the_carotid_is_felt_in_the_lower_half_and_never_at_the_top_of_the_larynx() -> None:
    drawn = neck_front.neck_landmarks("p")
    (_, level), (_, same) = strokes(drawn, "drawn-larynx-top")[0]
    cross = strokes(drawn, "drawn-never")[0]
    assert level == same == pytest.approx((cross[0][1] + cross[1][1]) / 2, abs=0.02)
    assert neck_front.FEEL < neck_front.LARYNX_TOP / 2 < neck_front.EAR_LOBE / 2
    (_, top), (_, bottom) = strokes(drawn, "drawn-look")[0]
    assert top == neck_front.at(0, neck_front.EAR_LOBE)[1] and bottom == neck_front.at(0, neck_front.COLLARBONE)[1]


def test_the_external_jugular_crosses_the_muscle_outwards() -> None:
    way = re.search(r'd="([^"]+)" class="drawn-accent drawn-external"', neck_front.neck_landmarks("p"))
    assert way
    out = [neck_front.MIDLINE - x for x, _ in nodes(way[1])]
    assert out == sorted(out), "from the angle of the jaw down and outwards"
