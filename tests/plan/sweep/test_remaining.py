"""What stands over the curve, against heights known in closed form."""

import math
from collections.abc import Mapping, Sequence

import pytest
import shapely
from tests.documents.jobs import pin
from tests.plan.sweep.test_sweep import NOSE, PLAIN, _steps

from ovolo.documents.reading import job_from_data
from ovolo.geometry.chain import Floats
from ovolo.plan.sweep.remaining import FINE, left_standing
from ovolo.plan.sweep.sweep import part_region, sweep
from ovolo.plan.view.frame import Frame
from ovolo.shop.edges.nosed import NOSE_CHORD


def test_what_stands_after_two_settings() -> None:
    """Two settings of a nose on the cylinder, 0.4 apart: the exact feed mark between them, none beneath."""
    a, b = -5.0, -5.4
    swept = sweep(PLAIN, _steps(NOSE, (a, 12), (a, 10.0), (a, 12), (b, 12), (b, 10.0)))
    u, height, points = left_standing(PLAIN, swept.rest)
    between = (points[:, 0] < a) & (points[:, 0] > b)
    exact = 1 - math.sqrt(1 - 0.04)
    assert exact - 1e-6 <= height[between].max() <= exact + NOSE_CHORD  # the flattened nose never flatters
    assert height[between].min() == pytest.approx(0, abs=1e-5)
    x, _ = PLAIN.chain.points(u[between])
    assert x == pytest.approx(points[between][:, 0], abs=1e-9)


def _standing(outline: Sequence[Mapping[str, float]], curve: list[float], metal: shapely.Geometry) -> Floats:
    frame = Frame(job_from_data(pin({"part.outline": outline, "part.curve": curve, "stock.diameter": 30})))
    _, height, _ = left_standing(frame, shapely.union(part_region(frame), metal))
    return height


def test_in_a_hollow_corner_most_stands_between_its_sides() -> None:
    """A square corner filled up to 1 mm: highest right over the corner, and there the border has no corner itself."""
    outline = [{"z": 0, "d": 20}, {"z": -5, "d": 10}, {"z": -10, "d": 20}, {"z": -24, "d": 20}]
    height = _standing(outline, [-1, -9], shapely.box(-5.613, 5, -4.6, 6))
    assert math.sqrt(0.5) - FINE <= height.max() <= math.sqrt(0.5) + 1e-9


@pytest.mark.parametrize("end", [-20.003, -20.011, -20.019])
def test_at_the_end_of_the_curve_the_very_end_counts(end: float) -> None:
    """A slope of 45° over a cylinder, from nothing at z = -19: as high at the end of the curve as that is away."""
    slope = shapely.Polygon([(-19, 9), (-24, 9), (-24, 14)])
    height = _standing([{"z": 0, "d": 18}, {"z": -24, "d": 18}], [-1, end], slope)
    assert height.max() == pytest.approx(-19 - end, abs=FINE)
    assert height.max() <= -19 - end + 1e-5


def test_what_stands_over_the_end_face_is_no_part_of_the_curve() -> None:
    """In front of a face with a hollow behind it: the outline is nearest in the hollow, but the part lies between."""
    outline = [{"z": 0, "d": 12}, {"z": -2, "d": 6}, {"z": -4, "d": 12}, {"z": -24, "d": 12}]
    height = _standing(outline, [0, -10], shapely.box(0, 1, 0.5, 3))
    assert not len(height)
    height = _standing(outline, [0, -10], shapely.box(-3, 3, -1, 4))
    assert height.max() > 0.5


def test_where_nothing_stands_nothing_is_high() -> None:
    height = _standing([{"z": 0, "d": 18}, {"z": -24, "d": 18}], [-1, -20], shapely.Polygon())
    assert not len(height)
