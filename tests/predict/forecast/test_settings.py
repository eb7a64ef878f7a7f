"""Where the settings of a plan touch, and what stands between them."""

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.documents.jobs import pin

from ovolo.cutting.nose import feed_mark, ridge_concave, ridge_convex
from ovolo.documents.reading import job_from_data
from ovolo.errors import FaultsFound
from ovolo.geometry.segments import Line, Point
from ovolo.plan.planner import make_plan
from ovolo.plan.view.frame import Frame
from ovolo.predict.forecast.settings import apex, gaps, settings_along, settings_of, settings_of_noses
from ovolo.shop.edges.form_edge import FormEdge
from ovolo.shop.form_tools import form_tool

PIN = Frame(job_from_data(pin()))


def _on_dome(angles: list[float]) -> list[tuple[int, Point, float]]:
    return [(0, Point(-9 + 12 * math.cos(a), 12 * math.sin(a)), 3.0) for a in angles]


@given(st.integers(3, 60))
def test_on_a_dome_the_gaps_are_the_ridges_of_the_formula(count: int) -> None:
    step = math.pi / 2 / (count - 1)
    settings = settings_along(PIN, _on_dome([k * step for k in range(count)]))
    if 9 * step < 4:
        expected = ridge_convex(9 * step, 3, 9)
        assert list(gaps(PIN, settings)) == pytest.approx([expected] * (count - 1), abs=1e-6)


def test_each_setting_knows_where_and_how_it_touches() -> None:
    angles = [0.0, 0.4, 1.1, math.pi / 2]
    settings = settings_along(PIN, list(reversed(_on_dome(angles))))
    assert [setting.normal for setting in settings] == pytest.approx(angles, abs=1e-6)
    assert [setting.foot.y for setting in settings] == pytest.approx([9 * math.sin(a) for a in angles], abs=1e-6)
    assert all(one.place < other.place for one, other in itertools.pairwise(settings))


@given(st.floats(0.2, 6), st.floats(0.01, 0.9))
def test_on_a_flat_it_is_the_feed_mark(radius: float, share: float) -> None:
    spacing = share * 2 * radius
    top = apex(Point(spacing / 2, radius), radius, Point(-spacing / 2, radius), radius)
    assert top.y == pytest.approx(feed_mark(spacing, radius), abs=1e-9)
    assert top.x == pytest.approx(0, abs=1e-9)


def test_in_a_hollow_it_is_the_ridge_of_the_formula() -> None:
    """R 10, r 0.8, step 0.4: 23.285 µm, checked against intersected circles elsewhere."""
    half = 0.4 / 10 / 2
    one, other = (Point(9.2 * math.sin(a), -9.2 * math.cos(a)) for a in (half, -half))
    top = apex(one, 0.8, other, 0.8)
    assert 10 - math.hypot(*top) == pytest.approx(ridge_concave(0.4, 0.8, 10), abs=1e-9)


def test_noses_that_do_not_meet_give_the_middle_of_the_gap() -> None:
    assert apex(Point(4, 1), 1, Point(-4, 1), 1) == Point(0, 1)
    assert apex(Point(0, 1), 1, Point(0, 1), 1) == Point(0, 0)
    with pytest.raises(FaultsFound):
        apex(Point(0, 1), 0, Point(1, 1), 1)


def test_two_noses_of_different_size_meet_on_both_circles() -> None:
    top = apex(Point(1, 2), 2, Point(-1, 0.5), 1.2)
    assert math.dist(top, Point(1, 2)) == pytest.approx(2)
    assert math.dist(top, Point(-1, 0.5)) == pytest.approx(1.2)


def test_the_stations_of_a_plan_leave_what_its_sweep_says() -> None:
    plan = make_plan(job_from_data(pin()))
    settings = settings_of(plan)
    assert len(settings) == plan.stations
    inner = gaps(Frame(plan.job), settings)[1:-1]  # at both ends the plan takes the nose along, and leaves less
    assert max(inner) == pytest.approx(plan.prediction.ridge_max, abs=5e-4)


def test_a_bore_points_its_normals_at_the_axis() -> None:
    changes = {
        "part.surface": "bore",
        "part.outline": [{"z": 0, "d": 14}, {"z": -10, "d": 10, "concave": 40}, {"z": -12, "d": 10}],
        "part.curve": [0, -10],
        "stock.diameter": 30,
        "stock.hole": 8,
        "tool.0.nose_radius": 1,
    }
    plan = make_plan(job_from_data(pin(changes)))
    settings = settings_of(plan)
    assert settings
    assert all(setting.normal < 0 for setting in settings)


def test_no_settings_have_no_gaps() -> None:
    assert settings_along(PIN, []) == ()
    assert gaps(PIN, ()) == ()
    assert gaps(PIN, settings_along(PIN, _on_dome([0.3]))) == ()


def test_no_nose_formula_is_held_to_hold_for_a_form_tool() -> None:
    """It touches where the outline's normal points at its slope, and what stands between two of its settings is not
    told by circles."""
    chamfer = form_tool("chamfer", [Line(Point(0, 4), Point(4, 0)), Line(Point(4, 0), Point(5, 0))])
    leg = 9 / math.sqrt(2)  # on the dome of R 9 its slope of 45 degrees touches at 45 degrees
    assert isinstance(chamfer.edge, FormEdge)
    slope = chamfer.edge.underside.sides[0]
    middle = Point((slope.start.x + slope.end.x) / 2, (slope.start.y + slope.end.y) / 2)
    nose = Point(-9 + leg - middle.x, leg - middle.y)
    found = settings_of_noses(PIN, [(1, nose, chamfer), (2, Point(nose.x - 1, nose.y + 1), chamfer)])
    assert found[0].nose_radius == 0.0
    assert found[0].normal == pytest.approx(math.pi / 4, abs=1e-6)
    assert found[0].foot == pytest.approx((-9 + leg, leg), abs=1e-6)
    assert gaps(PIN, found) == (math.inf,)


def test_a_cone_is_a_setting_in_its_middle() -> None:
    """From Ø 10 to Ø 20 over 30 mm, by a top slide set over: its normal is that of the cone."""
    changes = {
        "part.outline": [{"z": 0, "d": 10}, {"z": -30, "d": 20}, {"z": -40, "d": 20}],
        "part.curve": [0, -30],
        "stock": {"diameter": 22, "proud": 0.5},
        "limits.slides": ["saddle", "cross", "top"],
        "slide.top": {"travel": 60, "angle": math.degrees(math.atan2(5, 30))},
    }
    (setting,) = settings_of(make_plan(job_from_data(pin(changes))))
    assert -25 < setting.foot.x < -5
    assert setting.normal == pytest.approx(math.pi / 2 - math.atan2(5, 30), abs=1e-3)
    assert math.dist(setting.centre, setting.foot) == pytest.approx(3.0, abs=0.005)
