"""What no tool reaches: where, how near the nearest tool gets, what stops it."""

import math
from typing import Any

import numpy as np
import pytest
import shapely

from ovolo.documents.reading import job_from_data
from ovolo.errors import CannotPlan
from ovolo.plan.planner import make_plan
from ovolo.plan.report.unreached import Unreached, unreached
from ovolo.plan.sweep.sweep import part_region, tool_shape
from ovolo.plan.view.frame import Frame

KNIVES = [
    {"name": f"{hand} knife", "hand": hand, "nose_radius": 0.8, "edge_angle": 93, "point_angle": 55}
    for hand in ("right", "left")
]
GROOVE: dict[str, Any] = {
    "title": "Groove of a winch drum",
    "part": {
        "outline": [{"z": z, "d": d} for z, d in ((0, 20), (-5, 20), (-5, 10), (-9, 10), (-9, 20), (-20, 20))],
        "curve": [-5, -9],
    },
    "stock": {"diameter": 20.5, "proud": 0, "stick_out": 50},
    "tool": [{"name": "blade", "kind": "grooving", "nose_radius": 0.1, "width": 3, "stem": 4, "shank": 12}],
    "limits": {"bite": 3.5},
}
COVE: dict[str, Any] = {
    "title": "Cove in a bush",
    "part": {
        "surface": "bore",
        "outline": [{"z": 0, "d": 30}, {"z": -6, "d": 30}, {"z": -18, "d": 30, "concave": 10}, {"z": -30, "d": 30}],
        "curve": [-4, -20],
    },
    "stock": {"diameter": 70, "hole": 28, "proud": 0, "stick_out": 60},
    "tool": [{"name": "round bar", "kind": "round", "nose_radius": 1, "bar_diameter": 12, "stands_out": 1.5}],
}
SHOULDER: dict[str, Any] = {
    "title": "Shoulder of a pin",
    "part": {"outline": [{"z": 0, "d": 20}, {"z": -20, "d": 20}, {"z": -20, "d": 30}, {"z": -30, "d": 30}]},
    "stock": {"diameter": 32},
    "tool": [{"name": "fine knife", "nose_radius": 0.4}, {**KNIVES[0], "nose_radius": 0.8}],
    "finish": {"ridge": 0.05},
}
SHOULDER["part"]["curve"] = [0, -25]
BACK: dict[str, Any] = {
    "title": "Knob with a hollow back",
    "part": {
        "outline": [
            {"z": 0, "d": 20},
            {"z": -5, "d": 30, "convex": 5},
            {"z": -9, "d": 30},
            {"z": -7.9726, "d": 18.3473},
            {"z": -8.9574, "d": 16, "concave": 1},
            {"z": -28, "d": 16},
        ],
        "curve": [0, -20],
    },
    "stock": {"diameter": 32, "proud": 0.5, "stick_out": 50},
    "tool": [{**knife, "point_angle": 35} for knife in KNIVES],
    "finish": {"ridge": 0.06},
}
BALLS: dict[str, Any] = {
    "title": "Ball on a neck",
    "part": {
        "outline": [
            {"z": 0, "d": 0},
            {"z": -8, "d": 16, "convex": 8},
            {"z": -14.9282, "d": 8, "convex": 8},
            {"z": -16.66025, "d": 6, "concave": 2},
            {"z": -30, "d": 6},
            {"z": -30, "d": 24},
            {"z": -40, "d": 24},
        ],
        "curve": [0, -30],
    },
    "stock": {"diameter": 25, "proud": 0.5, "stick_out": 50},
    "tool": KNIVES,
    "finish": {"ridge": 0.03},
    "limits": {"bite": 2},
}
REFUSED = {"groove": GROOVE, "cove": COVE, "shoulder": SHOULDER, "back": BACK, "balls": BALLS}


def _found(job: dict[str, Any]) -> tuple[Unreached, ...]:
    return unreached(job_from_data(job))


def test_a_shank_stops_a_blade_short_of_the_floor() -> None:
    """The shank stands on the bar, r 10.25, its stem of 4 ends at r 6.25: 1.25 over the floor, 4 wide."""
    (found,) = _found(GROOVE)
    assert found.short == pytest.approx(10.25 - 4 - 5, abs=5e-3)
    assert found.metal.area == pytest.approx(4 * 1.25, abs=0.05)
    assert [found.begin.x, found.end.x] == pytest.approx([-5, -9])
    assert any(t.by == "shank" and t.at.y == pytest.approx(10.25, abs=0.02) for t in found.touches)


def test_a_boring_bar_stops_its_nose_short_of_a_cove() -> None:
    """The bar lies on the bore, r 15, its nose stands 1.5 out of it; the cove of R 10 over 12 mm is 2 deep."""
    (found,) = _found(COVE)
    assert found.short == pytest.approx(10 - math.sqrt(10**2 - 6**2) - 1.5, abs=5e-3)
    assert [t.by for t in found.touches] == ["boring bar"]
    assert found.nose.y == pytest.approx(15 + 1.5 - 1, abs=5e-3)


def test_in_a_square_corner_the_smallest_nose_gets_nearest() -> None:
    (found,) = _found(SHOULDER)
    assert found.tool.name == "fine knife"
    assert found.short == pytest.approx(0.4 * (math.sqrt(2) - 1), abs=2e-3)
    assert found.place == pytest.approx((-20, 10), abs=2e-3)
    assert len(found.touches) == 2


def test_under_a_lip_the_edge_meets_the_rim() -> None:
    (found,) = _found(BACK)
    assert found.tool.hand == "left"
    assert any(t.by == "edge" and t.at == pytest.approx((-9, 15), abs=0.1) for t in found.touches)


@pytest.mark.parametrize("name", REFUSED)
def test_every_fault_of_reach_has_its_stretch(name: str) -> None:
    with pytest.raises(CannotPlan) as refused:
        make_plan(job_from_data(REFUSED[name]))
    found = _found(REFUSED[name])
    assert len(found) == len(refused.value.faults)
    for s, fault in zip(found, refused.value.faults, strict=True):
        for p in (s.begin, s.end):
            assert f"z = {p.x:.4g} (Ø {2 * p.y:.4g})" in fault.says


@pytest.mark.parametrize("name", REFUSED)
def test_the_tool_stands_clear_of_the_part_and_what_stays_lies_on_it(name: str) -> None:
    job = job_from_data(REFUSED[name])
    frame = Frame(job)
    turn = np.array([1.0, float(frame.sign)])
    part = shapely.transform(part_region(frame), lambda xy: xy * turn)
    for s in unreached(job):
        tool = shapely.Polygon(tool_shape(s.tool) * turn + np.asarray(s.nose))
        assert shapely.intersection(tool, part).area < 1e-3
        assert tool.distance(shapely.Point(s.place)) == pytest.approx(s.short, abs=1e-6)
        assert shapely.intersection(s.metal, part).area < 1e-3
        assert s.metal.area > 0


def test_a_tool_of_the_drawer_can_be_looked_at_alone() -> None:
    left = unreached(job_from_data(BALLS), tool="left knife")
    assert {s.tool.name for s in left} == {"left knife"}
    assert sum(s.length for s in left) > sum(s.length for s in _found(BALLS))


COARSE = {
    "part": {"outline": [{"z": 0, "d": 0}, {"z": -9, "d": 18, "convex": 9}, {"z": -24, "d": 18}], "curve": [0, -9]},
    "tool": [{"name": "round nose 6", "kind": "round", "nose_radius": 3}],
    "finish": {"ridge": 0.021},
    "slide": {"cross": {"count": 0.1}, "saddle": {"count": 0.1}},
}
"""Every place is within reach of the nose, but not of the counts."""


def test_slides_too_coarse_put_nothing_out_of_reach() -> None:
    with pytest.raises(CannotPlan) as refused:
        make_plan(job_from_data({**GROOVE, **COARSE}))
    assert refused.value.faults[0].where == "finish.ridge"
    assert _found({**GROOVE, **COARSE}) == ()


def test_there_is_none_where_it_can_be_planned() -> None:
    long = [{"name": "long blade", "kind": "grooving", "nose_radius": 0.1, "width": 3}]
    assert _found({**GROOVE, "tool": long}) == ()
