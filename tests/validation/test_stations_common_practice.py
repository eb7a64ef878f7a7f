"""How many settings a round takes. Common practice, no source: a quarter round of R 7.5 stepped by 1 mm along the arc
takes 13 settings counting the start, the first move 0.997 out and 0.067 along, half the step twice the moves.

And against the ideal, derived here: a round nose without a grid, both ends set, stepping as far as the ridge allows.
Never more than one above it from ridges of twice the coarser step of the slides upward; below, the grid itself costs
settings, whoever chooses them (tests/plan/test_stations.py proves the number on the grid).
"""

import math

import numpy as np
import pytest
from tests.documents.jobs import Data, pin

from ovolo.cutting.nose import spacing_concave, spacing_convex
from ovolo.documents.reading import job_from_data
from ovolo.plan.planner import make_plan
from ovolo.plan.view.frame import Frame
from ovolo.predict.forecast.equal_steps import equal_places

QUARTER: Data = {
    "part.outline": [{"z": 0, "d": 0}, {"z": -7.5, "d": 15, "convex": 7.5}, {"z": -20, "d": 15}],
    "part.curve": [0, -7.5],
    "stock": {"diameter": 16, "proud": 0.3},
}


def test_thirteen_settings_counting_the_start() -> None:
    """Of the settings that are compared with a plan's, thirteen lie 1 mm apart, twice as many moves half."""
    frame = Frame(job_from_data(pin(QUARTER)))
    for settings, apart in ((13, 1.0), (25, 0.5)):
        x, y = frame.chain.points(equal_places(frame, settings))
        turned = np.arctan2(y, np.maximum(x + 7.5, 0.0))  # the last may be said anywhere along the cylinder behind
        assert np.diff(turned) * 7.5 == pytest.approx(np.full(settings - 1, apart), rel=0.02)


def test_the_first_move_along_the_round() -> None:
    """Out of the middle: 0.997 out and 0.067 along, within 0.02, the settings spread evenly over the quarter."""
    frame = Frame(job_from_data(pin(QUARTER)))
    x, y = frame.chain.points(equal_places(frame, 13))
    assert (y[1] - y[0], x[0] - x[1]) == pytest.approx((0.997, 0.067), abs=0.02)
    assert (x[0], y[0]) == pytest.approx((0, 0), abs=1e-9)


def test_diameter_or_radius_changes_figures_and_not_the_part() -> None:
    plans = [
        make_plan(job_from_data(pin({**QUARTER, "slide.cross.reads": reads, "slide.cross.count": count})))
        for reads, count in (("diameter", 0.01), ("radius", 0.005))
    ]
    # In which order they are cut, and how roughing gets there, may differ: its round figures are those of the slide.
    one, other = ({m.end: m for m in plan.moves if m.station is not None} for plan in plans)
    assert set(one) == set(other)
    assert plans[0].prediction.ridge_max == pytest.approx(plans[1].prediction.ridge_max, abs=1e-9)
    both = [(move, other[end]) for end, move in one.items() if {move.slide, other[end].slide} == {"cross"}]
    assert both
    for a, b in both:
        assert a.figure == pytest.approx(2 * b.figure)


def _ideal(spacing: float, length: float) -> int:
    """Both ends set, as many equal steps between as the ridge needs."""
    return math.ceil(length / spacing - 1e-9) + 1


@pytest.mark.parametrize("ridge", [0.02, 0.03, 0.05, 0.1])
@pytest.mark.parametrize(("radius", "nose"), [(7.5, 1.0), (9.0, 3.0), (20.0, 2.0)])
def test_never_more_than_one_above_the_ideal_on_a_dome(radius: float, nose: float, ridge: float) -> None:
    dome = {
        "part.outline": [
            {"z": 0, "d": 0},
            {"z": -radius, "d": 2 * radius, "convex": radius},
            {"z": -radius - 12, "d": 2 * radius},
        ],
        "part.curve": [0, -radius],
        "stock": {"diameter": 2 * radius + 1, "proud": 0.3},
        "tool.0.nose_radius": nose,
        "finish.ridge": ridge,
    }
    plan = make_plan(job_from_data(pin(dome)))
    assert plan.stations <= _ideal(spacing_convex(ridge, nose, radius), radius * math.pi / 2) + 1


@pytest.mark.parametrize("ridge", [0.02, 0.03, 0.1])
@pytest.mark.parametrize(("radius", "nose"), [(6.0, 1.0), (12.0, 2.0)])
def test_never_more_than_one_above_the_ideal_in_a_hollow(radius: float, nose: float, ridge: float) -> None:
    """A fillet between a cylinder and a face: the plain passes along both finish its ends as well."""
    r = 8.0
    outline = [
        {"z": 0, "d": 2 * r},
        {"z": -10, "d": 2 * r},
        {"z": -10 - radius, "d": 2 * (r + radius), "concave": radius},
        {"z": -30 - radius, "d": 2 * (r + radius)},
    ]
    changes = {"part.outline": outline, "part.curve": [-10, -10 - radius], "stock": {"diameter": 2 * (r + radius) + 1}}
    job = job_from_data(pin({**changes, "tool.0.nose_radius": nose, "finish.ridge": ridge, "limits.bite": 2}))
    plan = make_plan(job)
    assert plan.stations <= _ideal(spacing_concave(ridge, nose, radius), radius * math.pi / 2) + 1


def test_the_ideal_is_what_no_grid_does_better() -> None:
    """On a grid 20 times finer the number comes down to the ideal, and below it by no more than open ends allow."""
    for count in (0.01, 0.0005):
        fine = {**QUARTER, "slide": {"cross": {"count": count}, "saddle": {"count": count}}, "tool.0.nose_radius": 2}
        plan = make_plan(job_from_data(pin(fine)))
        ideal = _ideal(spacing_convex(0.05, 2, 7.5), 7.5 * math.pi / 2)
        assert ideal - 1 <= plan.stations <= ideal + (count > 0.001)
    assert np.isfinite(plan.prediction.ridge_max)
