"""Ball knobs DIN 319 (dimensions from memory), centre holes ISO 6411 / DIN 332-1 (seen), undercuts DIN 509 (seen)."""

import math

import pytest

from ovolo.part import published as pub


@pytest.mark.parametrize(
    ("ball", "implied"), [(12, 5.99), (16, 7.75), (20, 12.0), (25, 15.0), (32, 18.65), (40, 21.07), (50, 27.13)]
)
def test_flat_implied_by_the_height(ball: float, implied: float) -> None:
    knob = pub.ball_knob(ball)
    assert knob.flat_from_height == pytest.approx(implied, abs=6e-3)
    assert knob.flat_from_height == pytest.approx(knob.flat, abs=1)


def test_the_smallest_knob_has_m4_since_2002() -> None:
    assert pub.ball_knob(12).thread == "M4"


@pytest.mark.parametrize(
    ("pilot", "cone"),
    [(1, 0.970), (1.6, 1.516), (2, 1.949), (2.5, 2.425), (3.15, 3.074), (4, 3.897), (6.3, 5.976), (10, 9.699)],
)
def test_cone_depth(pilot: float, cone: float) -> None:
    hole = pub.centre_hole(pilot)
    assert hole.cone_depth == pytest.approx(cone, abs=6e-4)
    assert hole.cone_depth < hole.depth


@pytest.mark.parametrize(("allowance", "cylinder", "face"), [(0.1, 0.37, 0.71), (0.3, 1.12, 2.14), (1.0, 3.73, 7.12)])
def test_undercut_run_outs_follow_the_grinding_allowance(allowance: float, cylinder: float, face: float) -> None:
    assert allowance / math.tan(pub.UNDERCUT_CYLINDER_ANGLE) == pytest.approx(cylinder, abs=6e-3)
    assert allowance / math.tan(pub.UNDERCUT_FACE_ANGLE) == pytest.approx(face, abs=6e-3)


@pytest.mark.parametrize(
    ("diameter", "name", "width"),
    [(1.6, "0.1 × 0.1", 0.5), (3, "0.2 × 0.1", 1), (10, "0.4 × 0.2", 2), (18, "0.6 × 0.2", 2), (80, "0.6 × 0.3", 2.5),
     (81, "1 × 0.4", 4)],
)  # fmt: skip
def test_an_undercut_is_named_by_radius_and_depth_not_by_width(diameter: float, name: str, width: float) -> None:
    row = pub.undercut(diameter)
    assert (row.name, row.width) == (name, width)
    assert row.name != f"{row.width:g} × {row.depth:g}"


@pytest.mark.parametrize(
    ("diameter", "name"), [(50, "1 × 0.2"), (80, "1.6 × 0.3"), (125, "2.5 × 0.4"), (126, "4 × 0.5")]
)
def test_undercuts_for_alternating_load(diameter: float, name: str) -> None:
    assert pub.undercut(diameter, fatigue=True).name == name
