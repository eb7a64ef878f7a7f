"""Volumes of revolution of what the sweep leaves, against solids of Machinery's Handbook, 31st ed., pp. 91-93 (seen),
and against Pappus: the area that each move takes, turned about the axis at its centroid.

A finished part keeps its ridges, so its volume is a little over that of the solid: at most as much as the highest ridge
all over it.
"""

import math

import numpy as np
import pytest
import shapely
from tests import oracle
from tests.documents.jobs import Data, pin

from ovolo.cutting.filing import revolved_volume, ring_volume
from ovolo.documents.plan.document import plan_as_data
from ovolo.documents.reading import job_from_data
from ovolo.plan.planner import make_plan

RIDGE = 0.01


def _planned(changes: Data) -> tuple[Data, oracle.Data]:
    job = pin({"finish.ridge": RIDGE, "slide": {"cross": {"count": 0.005}, "saddle": {"count": 0.005}}, **changes})
    return job, plan_as_data(make_plan(job_from_data(job)))


def _volume(plan: oracle.Data, back: float) -> float:
    """Of what is left in front of z = back."""
    surface = [p for p in plan["prediction"]["surface"] if p[0] >= back]
    ring = [(z, max(r, 0.0)) for z, r in surface]
    return revolved_volume([(ring[0][0], 0.0), *ring, (back, ring[-1][1]), (back, 0.0)])


def _dome(radius: float, deep: float) -> Data:
    half = math.sqrt(radius**2 - (radius - deep) ** 2)
    return {
        "part.outline": [
            {"z": 0, "d": 0},
            {"z": -deep, "d": 2 * half, "convex": radius + 1e-9},
            {"z": -deep - 12, "d": 2 * half},
        ],
        "part.curve": [0, -deep],
        "stock": {"diameter": math.ceil(2 * half) + 1, "proud": 0.5},
    }


@pytest.mark.parametrize(
    ("radius", "deep", "solid"),
    [
        (3.25, 3.25, 143.79 / 2),  # half the sphere of diameter 6.5, p. 91
        (64.0625 / 5, 10.0, 372_246.0 / 125),  # the segment h 50, c 125 of p. 91, a fifth of the size
    ],
)
def test_domes_of_the_handbook(radius: float, deep: float, solid: float) -> None:
    _, plan = _planned({**_dome(radius, deep), "tool.0.nose_radius": 1})
    surface = 2 * math.pi * radius * deep
    volume = _volume(plan, -deep)
    assert solid - 0.01 <= volume <= solid + RIDGE * surface


def test_a_cone_to_a_cylinder_is_a_third() -> None:
    """P. 93: 1/3 : 1, on a point of 10 long and 10 across."""
    cone = {
        "part.outline": [{"z": 0, "d": 0}, {"z": -10, "d": 10}, {"z": -22, "d": 10}],
        "part.curve": [0, -10],
        "stock": {"diameter": 11, "proud": 0.5},
        "tool.0.nose_radius": 1,
    }
    _, plan = _planned(cone)
    third = math.pi * 25 * 10 / 3
    assert third - 0.01 <= _volume(plan, -10) <= third + RIDGE * math.pi * 5 * math.hypot(5, 10)


def test_a_cove_is_a_ring_taken_out() -> None:
    """Pappus: a half disc of radius 3 whose centroid lies 4r/3π inside the surface of Ø 30, and what ridges leave."""
    outline = [{"z": 0, "d": 30}, {"z": -6, "d": 30}, {"z": -12, "d": 30, "concave": 3}, {"z": -40, "d": 30}]
    cove = {"part.outline": outline, "part.curve": [-5, -13], "stock": {"diameter": 30}, "tool.0.nose_radius": 1}
    _, plan = _planned(cove)
    taken = math.pi * 15**2 * 15 - _volume(plan, -15)
    groove = ring_volume(math.pi * 9 / 2, 15 - 4 * 3 / (3 * math.pi))
    assert groove - RIDGE * math.pi * 3 * 2 * math.pi * 13.1 <= taken <= groove + 0.05


def test_what_the_moves_take_adds_up_by_pappus() -> None:
    """Each move's chip turned at its centroid, and what is left: together the blank, to a part in a million."""
    job, plan = _planned(_dome(9, 9))
    setup, rest, gone = oracle.set_up(job), oracle.set_up(job).blank, 0.0
    for track in oracle.tracks_of(setup, plan["moves"]):
        chip = shapely.intersection(track, rest)
        if chip.area > 0:
            gone += ring_volume(chip.area, float(shapely.centroid(chip).y))
            rest = shapely.difference(rest, track)
    ring = np.asarray(shapely.get_coordinates(max(shapely.get_parts(rest), key=lambda g: float(g.area)).exterior))
    blank = math.pi * (setup.blank.bounds[3]) ** 2 * (setup.blank.bounds[2] - setup.blank.bounds[0])
    left = abs(revolved_volume([(float(z), float(r)) for z, r in ring[:-1]]))
    assert gone + left == pytest.approx(blank, rel=1e-6)
    assert sum(m["removes_mm2"] for m in plan["moves"]) == pytest.approx(setup.blank.area - rest.area, abs=0.02)
