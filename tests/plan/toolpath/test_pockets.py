"""Pockets: each entry is fed in within the bite, also where an edge leans as far as the wall beside it."""

from typing import Any

import pytest
from tests import oracle
from tests.documents.jobs import pin

from ovolo.documents.plan.document import plan_as_data
from ovolo.documents.reading import job_from_data
from ovolo.plan.planner import make_plan
from ovolo.plan.steps import Walk
from ovolo.plan.sweep.sweep import sweep
from ovolo.plan.toolpath.ground import Care, Span
from ovolo.plan.toolpath.plan_moves import blank_metal
from ovolo.plan.toolpath.roughing import Rougher
from ovolo.plan.view.frame import Frame, whole

BAR = {"name": "boring bar", "nose_radius": 0.4, "edge_angle": 100.4, "point_angle": 35}
BACK_BAR = {"name": "back-boring bar", "hand": "left", "nose_radius": 0.4, "edge_angle": 103.2, "point_angle": 35}
HOOK: list[dict[str, Any]] = [{"z": -4.817, "d": 32.312}, {"z": -5.503, "d": 33.9, "through": [-4.97815, 33.41967]}]
OIL_RECESS = pin(
    {
        "title": "Bush with an oil recess that runs back under its edge",
        "part.surface": "bore",
        "part.outline": [
            {"z": 0, "d": 29.747},
            {"z": -5.007, "d": 29.747},
            *HOOK,
            {"z": -21.236, "d": 33.9},
            {"z": -21.236, "d": 29.747},
            {"z": -25.236, "d": 29.747},
        ],
        "part.curve": [-0.5, -14.498],
        "stock": {"diameter": 48, "hole": 29, "proud": 0.45, "stick_out": 150},
        "tool": [BAR, BACK_BAR],
        "finish": {"ridge": 0.125, "allowance": 0.2},
        "limits.bite": 0.5,
        "slide.saddle": {"grows": "toward", "count": 0.05},
        "slide.cross": {"count": 0.005},
    }
)
COUNTS = [0.02, 0.05, 0.1]


def _rougher(count: float) -> Rougher:
    """The bar that leans at the recess's mouth, where the settings of the saddle are so far apart, mm."""
    frame = Frame(job_from_data({**OIL_RECESS, "slide": {"saddle": {"count": count}, "cross": {"count": 0.005}}}))
    tool = frame.job.shop.tools[0]
    return Rougher(frame, tool, blank_metal(frame, [tool]), Care())


@pytest.mark.parametrize("count", COUNTS)
def test_an_edge_that_leans_as_its_wall_does_never_shaves_more_than_the_bite(count: float) -> None:
    rougher = _rougher(count)
    walk = Walk(rougher.tool, rougher.clear_x, rougher.clear_y)
    rougher.rough(walk)
    limit = rougher.frame.job.shop.bite * 1.02 + 0.01
    assert max(took.bite for took in sweep(whole(rougher.frame), walk.steps).moves) <= limit


def test_a_recess_that_runs_back_under_its_edge_is_planned_within_the_bite() -> None:
    job = {**OIL_RECESS, "limits": {"bite": 0.7}}  # its end wall is too steep for finishing cuts of 0.5 mm
    assert not oracle.judge(job, plan_as_data(make_plan(job_from_data(job)))).faults


def test_the_entry_is_the_nearest_column_that_fits() -> None:
    """A flat with a step down at x = -8: over the flat the nose would go too deep, past the step it cuts nothing."""
    rougher = _rougher(0.05)
    y = rougher.metal.top - 0.4 - 0.3
    rougher.metal.height[rougher.x < -8] = y - 5
    span = Span(-14.0, -7.0, open=False)
    entry = rougher._entry_that_fits(span, y)
    assert span.left <= entry < -8
    assert rougher.metal.try_plunge(entry, y).wide <= rougher.bite
    assert rougher.metal.try_plunge(entry + rougher.lattice.dx, y).wide > rougher.bite
