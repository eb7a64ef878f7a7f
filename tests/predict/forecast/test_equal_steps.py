"""Equal steps with a point, against an independent sweep."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.documents.jobs import pin

from ovolo.documents.reading import job_from_data
from ovolo.errors import FaultsFound
from ovolo.plan.view.frame import Frame
from ovolo.predict.forecast.equal_steps import equal_places, nose_on_dome, point_on_dome, steps_leave

PIN = Frame(job_from_data(pin()))


def _swept(radius: float, count: int, nose: float) -> float:
    """Independent of the code: a quarter disc swept by quarter planes (point) or by discs with all beyond them.

    The tool stands at each setting; what it takes is all that lies farther out and nearer the free end than the nose.
    """
    angles = np.linspace(0, math.pi / 2, count)
    far = 5 * radius
    taken = []
    for a in angles:
        z, r = (radius + nose) * math.cos(a), (radius + nose) * math.sin(a)
        if nose:
            disc = shapely.Point(z, r).buffer(nose, quad_segs=256)
            taken.append(
                shapely.union_all([disc, shapely.box(z, r - nose, far, far), shapely.box(z - nose, r, far, far)])
            )
        else:
            taken.append(shapely.box(z, r, far, far))
    blank = shapely.box(0, 0, radius + 2, radius + 2)
    left = shapely.difference(blank, shapely.union_all(taken))
    points = shapely.get_coordinates(left)
    inside = (points[:, 0] > 1e-9) & (points[:, 1] > 1e-9)
    return float((np.hypot(*points.T)[inside] - radius).max())


@pytest.mark.parametrize(("count", "point", "nose"), [(13, 0.565, 0.079), (25, 0.289, 0.019)])
def test_the_dome_of_the_comparison_agrees_with_an_independent_sweep(count: int, point: float, nose: float) -> None:
    """R 9, a point against a nose of R 3: the figures of the project's own comparison."""
    assert _swept(9, count, 0) == pytest.approx(point, abs=5e-4)
    assert _swept(9, count, 3) == pytest.approx(nose, abs=5e-4)
    assert point_on_dome(9, count) == pytest.approx(_swept(9, count, 0), abs=1e-9)
    assert nose_on_dome(9, 3, count) == pytest.approx(_swept(9, count, 3), abs=2e-4)
    assert steps_leave(PIN, count) == pytest.approx(point, abs=5e-4)
    assert steps_leave(PIN, count, 3.0) == pytest.approx(nose, abs=5e-4)


@settings(max_examples=25)
@given(st.integers(4, 60), st.floats(0.5, 6))
def test_on_a_dome_the_sweep_is_the_closed_form(count: int, nose: float) -> None:
    step = 9 * math.pi / 2 / (count - 1)
    assert steps_leave(PIN, count) == pytest.approx(point_on_dome(9, count), abs=5e-6)
    if step < 0.8 * nose:
        assert steps_leave(PIN, count, nose) == pytest.approx(nose_on_dome(9, nose, count), abs=5e-4)


@given(st.floats(1, 100), st.integers(2, 200))
def test_twice_the_steps_leave_less(radius: float, count: int) -> None:
    assert point_on_dome(radius, 2 * count) < point_on_dome(radius, count)


def test_two_settings_leave_the_square_corner() -> None:
    assert point_on_dome(9, 2) == pytest.approx(9 * (math.sqrt(2) - 1))


def test_faces_and_cylinders_are_not_stepped() -> None:
    """A rounded corner behind a face leaves what the corner alone does."""
    outline = [{"z": 0, "d": 0}, {"z": 0, "d": 10}, {"z": -4, "d": 18, "convex": 4}, {"z": -24, "d": 18}]
    frame = Frame(job_from_data(pin({"part.outline": outline, "part.curve": [0, -10]})))
    assert steps_leave(frame, 9) == pytest.approx(point_on_dome(4, 9), abs=1e-5)
    _, y = frame.chain.points(equal_places(frame, 3))
    assert y[1] - 5 == pytest.approx(4 * math.sin(math.pi / 4), abs=1e-6)


def test_a_hollow_and_a_neck_are_compared_too() -> None:
    outline = [{"z": 0, "d": 18}, {"z": -10, "d": 18, "concave": 8}, {"z": -24, "d": 18}]
    frame = Frame(job_from_data(pin({"part.outline": outline, "part.curve": [0, -10], "tool.0.nose_radius": 1})))
    point, nose = steps_leave(frame, 15), steps_leave(frame, 15, 1.0)
    assert point is not None
    assert nose is not None
    assert 0 < nose < point


def test_there_is_nothing_to_compare_with_one_setting_or_on_a_cylinder() -> None:
    assert steps_leave(PIN, 1) is None
    outline = [{"z": 0, "d": 18}, {"z": -24, "d": 18}]
    assert steps_leave(Frame(job_from_data(pin({"part.outline": outline, "part.curve": [0, -10]}))), 9) is None


@pytest.mark.parametrize("values", [(0, 5), (9, 1), (math.nan, 5)])
def test_impossible_values_are_refused(values: tuple[float, int]) -> None:
    with pytest.raises(FaultsFound):
        point_on_dome(*values)
