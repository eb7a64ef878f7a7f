"""Work in a bay: every move of one slide, from the mouth and back to it, judged by the second opinion."""

from typing import Any

import numpy as np
import pytest
from tests import oracle
from tests.documents.jobs import pin

from ovolo.documents.plan.document import plan_as_data
from ovolo.documents.reading import job_from_data
from ovolo.plan.planner import make_plan
from ovolo.plan.sweep.height_field import Metal
from ovolo.plan.toolpath.undercut import metal_from_side
from ovolo.plan.view.frame import Frame
from ovolo.plan.view.undercut_frame import side_tool, side_views

KNIFE = {"name": "knife", "hand": "right", "nose_radius": 0.4}
LEFT = {"name": "left", "hand": "left", "nose_radius": 0.4, "edge_angle": 110, "point_angle": 35}
FACING = {"name": "facing knife", "hand": "right", "nose_radius": 0.4, "edge_angle": 115, "point_angle": 35}
FOOT: list[dict[str, Any]] = [{"z": -5.1864, "d": 13.4914}, {"z": -5.7687, "d": 12, "concave": 0.6}]
HOLLOW_BACK: list[dict[str, Any]] = [
    {"z": 0, "d": 0},
    {"z": 0, "d": 20},
    {"z": -6, "d": 20},
    *FOOT,
    {"z": -24, "d": 12},
]
DISH: list[dict[str, Any]] = [{"z": -1, "d": 0}, {"z": 0, "d": 12, "concave": 18.5}, {"z": -12, "d": 12}]


def _job(outline: list[dict[str, Any]], curve: list[float], *tools: Any, **changes: Any) -> oracle.Data:
    return pin(
        {
            "part.outline": outline,
            "part.curve": curve,
            "stock.diameter": 22,
            "stock.stick_out": 60,
            "tool": list(tools),
            **changes,
        }
    )


BACK = _job(HOLLOW_BACK, [-3, -20], KNIFE, LEFT)
DISHED = _job(DISH, [0, -10], FACING)


@pytest.mark.parametrize("job", [BACK, DISHED], ids=["hollow back", "dished end"])
def test_the_bay_is_finished_as_promised(job: oracle.Data) -> None:
    assert not oracle.judge(job, plan_as_data(make_plan(job_from_data(job)))).faults


@pytest.mark.parametrize("reads", ["radius", "diameter"])
def test_on_dials_the_backlash_is_closed_without_a_gouge(reads: str) -> None:
    dial = {"per_turn": 2.5, "divisions": 125, "count": 0.02, "backlash": 0.3}
    job = _job(HOLLOW_BACK, [-3, -20], KNIFE, LEFT, **{"slide.saddle": dial, "slide.cross": {**dial, "reads": reads}})
    assert not oracle.judge(job, plan_as_data(make_plan(job_from_data(job)))).faults


def test_a_knife_does_what_it_can_from_above_before_it_goes_in() -> None:
    plan = make_plan(job_from_data(BACK))
    left = [m for m in plan.moves if m.tool == "left"]
    inward = [m for m in left if m.cuts and m.slide == "saddle" and m.end.x > m.start.x and m.start.x < -5.5]
    assert inward, "the wall under the lip is cut away from the chuck"
    assert [m.n for m in left] == list(range(left[0].n, left[-1].n + 1)), "it is not taken out of its holder between"
    assert left[-1].end.y > 10, "it ends clear of the work"


def test_the_metal_seen_from_the_side_is_how_far_it_comes_out() -> None:
    """A neck turned to Ø 12 behind a block of Ø 22 that ends at z = -6.2: so far it comes out."""
    frame = Frame(job_from_data(BACK))
    (view,) = side_views(frame)
    tool = side_tool(frame.job.shop.tools[1], -1)
    assert tool is not None
    x = np.linspace(-26, 3, 2901)
    metal = metal_from_side(view, tool, Metal(x, np.where(x > -6.2, 11.0, 6.0), tool))
    at = np.interp([7.0, 10.5], metal.x, metal.height)
    assert at == pytest.approx([6.2, 6.2], abs=0.02)
    assert np.interp(12.0, metal.x, metal.height) == pytest.approx(view.base)
