"""Heights of the finished surface, against the sweep of regions."""

import numpy as np
import pytest
import shapely
from tests.check.parts import SHAPES, shape

from ovolo.check.positions import positions_of
from ovolo.check.profile import heights, near_surface, places
from ovolo.documents.reading import read_job
from ovolo.plan.model import Plan
from ovolo.plan.planner import make_plan


def _apart(plan: Plan) -> float:
    """The farthest that the profile is from the swept border, mm."""
    at = positions_of(plan)
    x = np.linspace(at.frame.back + 0.01, at.frame.front_of_part, 1500)
    y = at.frame.sign * heights(at, places(at, x, 0.3))
    border = shapely.LineString([tuple(point) for point in plan.prediction.surface])
    return float(shapely.distance(shapely.points(x, y), border).max())


@pytest.mark.parametrize("name", SHAPES)
def test_the_profile_is_the_swept_surface(name: str) -> None:
    assert _apart(shape(name).plan) < 1e-3


@pytest.mark.parametrize("example", ["rope-sheave", "tapered-dowel", "winch-pin-inch"])
def test_with_blades_form_tools_and_knives_too(example: str) -> None:
    assert _apart(make_plan(read_job(f"examples/{example}.toml"))) < 1e-3


def test_moves_far_from_the_surface_make_no_difference() -> None:
    at = positions_of(shape("ball").plan)
    near = near_surface(at)
    assert near.count < at.count
    x = np.linspace(-17, -0.1, 300)
    assert np.allclose(heights(at, places(at, x, 0.3)), heights(near, places(near, x, 0.3)), atol=1e-9)
