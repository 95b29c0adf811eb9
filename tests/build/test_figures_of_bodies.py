"""Drawings of bodies, eyes and graphs: angles, depths and distances are those of the sources they name."""

from __future__ import annotations

import math
import re
from xml.etree import ElementTree

import pytest

from build_tools.figures import axis, chest, fingers, legs, likelihood, retina
from tests.drawn import SVG, Point, discs, strokes


def turned(start: Point, corner: Point, end: Point) -> float:
    """Give the angle at a corner above the line, in degrees: 180 is straight, more bends down to the right."""
    first = math.atan2(corner[1] - start[1], corner[0] - start[0])
    second = math.atan2(end[1] - corner[1], end[0] - corner[0])
    return 180 + math.degrees(second - first)


def test_the_angles_of_the_fingers_are_the_published_means() -> None:
    drawn = fingers.clubbing("p")
    folds, nails, tips = (strokes(drawn, f"drawn-{name}-line") for name in ("fold", "nail", "tip"))
    for finger, fold, nail, tip in zip((fingers.NORMAL, fingers.CLUBBED), folds, nails, tips, strict=True):
        assert turned(fold[0], fold[1], nail[1]) == pytest.approx(finger.profile, abs=0.1)
        assert turned(fold[0], fold[1], tip[1]) == pytest.approx(finger.hyponychial, abs=0.1)
    assert (fingers.NORMAL.profile, fingers.CLUBBED.profile) == (172.8, 183.4)
    assert (fingers.NORMAL.hyponychial, fingers.CLUBBED.hyponychial) == (181.5, 201.4)


def test_the_depths_of_the_fingers_have_the_published_ratios() -> None:
    drawn = fingers.clubbing("p")
    joints, nails = strokes(drawn, "drawn-depth-joint"), strokes(drawn, "drawn-depth-nail")
    ratios = [(n[1][1] - n[0][1]) / (j[1][1] - j[0][1]) for j, n in zip(joints, nails, strict=True)]
    assert ratios == pytest.approx([0.904, 1.014], abs=0.001)


def test_one_finger_lies_within_the_limits_and_the_other_beyond_each() -> None:
    def measures(finger: fingers.Finger) -> tuple[float, float, float]:
        return finger.profile, finger.hyponychial, finger.ratio

    assert all(each < limit for each, limit in zip(measures(fingers.NORMAL), fingers.LIMITS, strict=True))
    assert all(each > limit for each, limit in zip(measures(fingers.CLUBBED), fingers.LIMITS, strict=True))


def test_both_fingers_are_drawn_in_both_tones_of_skin() -> None:
    drawn = fingers.clubbing("p")
    assert drawn.count('class="skin-light"') == drawn.count('class="skin-dark"') == 2


def test_each_pit_is_as_deep_as_its_millimetres() -> None:
    depths = [(b[1] - a[1]) / legs.PIT_SCALE for a, b in strokes(legs.pitting("p"), "drawn-pit")]
    assert depths == [2, 4, 6, 8]


def test_the_legs_are_raised_to_the_angle_that_is_written() -> None:
    drawn = legs.leg_elevation("p")
    ((x0, y0), (x1, y1)) = strokes(drawn, "drawn-raised-leg")[0]
    assert math.degrees(math.atan2(y0 - y1, x1 - x0)) == pytest.approx(60, abs=0.05)
    assert ">60°<" in drawn
    for state in ("ordinary", "pale", "red"):
        for tone in ("light", "dark"):
            assert f'class="sole-{tone}-{state}"' in drawn


def test_the_apex_beat_lies_where_health_puts_it_and_the_displaced_one_does_not() -> None:
    drawn = chest.apex_landmarks("p")
    x, _, radius = discs(drawn, "drawn-apex")[0]
    assert 2 * radius / chest.SCALE == pytest.approx(3, abs=0.01)
    outer = (x + radius - chest.MIDLINE) / chest.SCALE
    assert outer <= chest.MID_CLAVICULAR and outer <= 10
    (start, _), (end, _) = strokes(drawn, "drawn-limit")[0]
    assert (end - start) / chest.SCALE == pytest.approx(10, abs=0.01)
    far, _, wide = discs(drawn, "drawn-displaced")[0]
    assert (far - chest.MIDLINE) / chest.SCALE > 10 and wide > radius


def test_the_listening_areas_lie_in_their_spaces_on_their_sides() -> None:
    (ax, ay), (px, py), (tx, ty), (mx, my) = (place for _, place in chest.AREAS.values())
    assert ax < chest.MIDLINE < px and ay == py, "aortic on the patient's right, pulmonary on the left, one space"
    assert chest.at(0, chest.rib(2, 2.9))[1] < py < chest.at(0, chest.rib(3, 2.9))[1]
    assert chest.at(0, chest.rib(4, 2.9))[1] < ty < chest.at(0, chest.rib(5, 2.9))[1] and tx == px
    assert chest.at(0, chest.rib(5, 9))[1] < my < chest.at(0, chest.rib(6, 9))[1]
    assert mx == pytest.approx(chest.at(chest.MID_CLAVICULAR, 0)[0])


def test_the_lead_of_a_pacemaker_crosses_to_the_right_before_it_goes_to_the_apex() -> None:
    lead = next(one for one in ElementTree.fromstring(chest.scars_and_devices("p")).iter(f"{SVG}path")
                if one.get("class") == "drawn-lead")
    places = re.findall(r"(-?[\d.]+) -?[\d.]+", lead.get("d") or "")
    across = [(float(x) - chest.MIDLINE) / chest.SCALE for x in places]
    assert across[0] > 4 and min(across) < -2 and across[-1] > 3


def test_ribs_never_cross() -> None:
    for out in (2, 5, 8, 11, 14):
        heights = [chest.rib(count, out) for count in chest.RIBS]
        assert heights == sorted(heights)


def test_the_second_rib_meets_the_breastbone_at_the_sternal_angle() -> None:
    (_, left), (_, right) = strokes(chest.apex_landmarks("p"), "drawn-sternal-angle")[0]
    assert left == right == pytest.approx(chest.at(0, chest.rib(2, 2))[1], abs=0.01)


@pytest.mark.parametrize(
    ("lead_one", "foot", "wanted"), [(1, -0.5, -30.0), (10, 8, 42.7), (5, 5, 49.1), (8, -2, -16.1)]
)
def test_the_axis_follows_the_weighted_formula(lead_one: float, foot: float, wanted: float) -> None:
    assert axis.axis_of(lead_one, foot) == pytest.approx(wanted, abs=0.05)


def test_the_arrow_and_the_leads_point_where_they_say() -> None:
    drawn = axis.frontal_axis("p")
    (x0, y0), (x1, y1) = strokes(drawn, "drawn-axis")[0]
    assert math.degrees(math.atan2(y1 - y0, x1 - x0)) == pytest.approx(axis.axis_of(*axis.EXAMPLE), abs=0.1)
    for name, angle in axis.LEADS.items():
        (x0, y0), (x1, y1) = strokes(drawn, f"lead-{name.lower()}")[0]
        assert math.degrees(math.atan2(y1 - y0, x1 - x0)) == pytest.approx(angle, abs=0.1)
    corners = strokes(drawn, "drawn-normal-axis")[0]
    assert math.degrees(math.atan2(corners[1][1] - corners[0][1], corners[1][0] - corners[0][0])) == pytest.approx(
        -30, abs=0.1)


@pytest.mark.parametrize(("before", "ratio", "wanted"), [(0.47, 11, 0.907), (0.02, 5.7, 0.104), (0.1, 0.2, 0.022)])
def test_the_chance_after_a_sign_goes_by_odds(before: float, ratio: float, wanted: float) -> None:
    assert likelihood.after(before, ratio) == pytest.approx(wanted, abs=0.0005)


def test_each_curve_of_chance_is_exact() -> None:
    drawn = likelihood.before_and_after("p")
    for ratio, points in zip(likelihood.RATIOS, strokes(drawn, "trace-ratio"), strict=True):
        for x, y in points[:-1]:
            before, now = (x - likelihood.LEFT) / likelihood.SIDE, (likelihood.BOTTOM - y) / likelihood.SIDE
            assert now == pytest.approx(likelihood.after(before, ratio), abs=0.001)


def test_the_grades_of_the_fundus_add_their_signs_in_order() -> None:
    signs = [(grade.nicking, grade.bleeding, grade.swollen) for grade in retina.GRADES]
    assert signs == [(False,) * 3, (False,) * 3, (True, False, False), (True, True, False), (True,) * 3]
    assert retina.GRADES[1].width < retina.GRADES[0].width, "narrowing comes first"
    drawn = retina.fundus_grades("p")
    assert drawn.count("fundus-blurred") == 2 and drawn.count('class="fundus-nick"') == 6
    assert retina.DISC[0] > 0 > retina.MACULA[0], "in a right eye the disc lies towards the nose, right on the sheet"
