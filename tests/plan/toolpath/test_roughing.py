"""Roughing: the allowance is left everywhere, the bite kept, figures are round, and little stands over that."""

import numpy as np
import pytest
import shapely
from tests.documents.jobs import Data, pin

from ovolo.documents.reading import job_from_data
from ovolo.plan.planner import make_plan
from ovolo.plan.steps import Walk
from ovolo.plan.sweep.sweep import Sweep, part_region, sweep
from ovolo.plan.toolpath.ground import Care
from ovolo.plan.toolpath.plan_moves import blank_metal
from ovolo.plan.toolpath.roughing import Rougher
from ovolo.plan.view.frame import Frame

COVE: Data = {
    "part.outline": [
        {"z": 0, "d": 0},
        {"z": 0, "d": 20},
        {"z": -5, "d": 20},
        {"z": -13, "d": 20, "concave": 5},
        {"z": -32, "d": 20},
    ],
    "part.curve": [-4, -14],
    "stock": {"diameter": 24, "proud": 1},
    "tool.0.nose_radius": 1,
}
BORE: Data = {
    "part.surface": "bore",
    "part.outline": [{"z": 0, "d": 24}, {"z": -5, "d": 14, "convex": 5}, {"z": -20, "d": 14}],
    "part.curve": [0, -5],
    "stock": {"diameter": 30, "hole": 10, "proud": 0.5},
    "tool": [{"name": "boring bar", "nose_radius": 0.4}],
}
JOBS: dict[str, Data] = {"dome": {}, "heavy dome": {"stock.diameter": 30, "stock.proud": 2}, "cove": COVE, "bore": BORE}


def _roughed(changes: Data) -> tuple[Frame, Rougher, Walk, Sweep]:
    frame = Frame(job_from_data(pin(changes)))
    tool = frame.job.shop.tools[0]
    rougher = Rougher(frame, tool, blank_metal(frame, [tool]), Care())
    walk = Walk(tool, rougher.clear_x, rougher.clear_y)
    rougher.rough(walk)
    return frame, rougher, walk, sweep(frame, walk.steps)


@pytest.fixture(scope="module", params=JOBS)
def roughed(request: pytest.FixtureRequest) -> tuple[Frame, Rougher, Walk, Sweep]:
    """Each job, roughed once."""
    return _roughed(JOBS[request.param])


Roughed = tuple[Frame, Rougher, Walk, Sweep]


def test_the_allowance_is_left_everywhere(roughed: Roughed) -> None:
    frame, _, _, swept = roughed
    allowance = frame.job.shop.allowance
    # On the outline of the curve; the metal so far over it still stands.
    u = np.linspace(*frame.stretch, 400)
    x, y = frame.chain.points(u, allowance - 0.002)
    inside = (y > frame.base + 0.01) & (y < frame.top - 0.01) & (x < frame.front - 0.01)
    assert shapely.contains_xy(swept.rest, x[inside], y[inside]).all()
    assert swept.gouge == 0


def test_no_move_bites_more_than_allowed(roughed: Roughed) -> None:
    frame, _, _, swept = roughed
    assert max(m.bite for m in swept.moves) <= frame.job.shop.bite * 1.02 + 0.01


def test_little_stands_over_what_could_be_taken(roughed: Roughed) -> None:
    frame, _, _, swept = roughed
    left = shapely.difference(swept.rest, part_region(frame))
    points = shapely.get_coordinates(shapely.segmentize(left.boundary, 0.1))
    points = points[np.argsort(points[:, 0], kind="stable")]
    u, height = frame.chain.project(points[:, 0], points[:, 1], 50)
    over = height[(u > frame.stretch[0] + 0.01) & (u < frame.stretch[1] - 0.01)]
    assert over.max() < frame.job.shop.allowance + 1.1 * frame.job.shop.bite


def test_it_stands_clear_at_both_ends(roughed: Roughed) -> None:
    frame, rougher, walk, _ = roughed
    assert walk.steps[0].start == (rougher.clear_x, rougher.clear_y)
    assert walk.y == rougher.clear_y
    assert rougher.clear_y >= frame.top + walk.tool.nose_radius
    assert all(step.stage == "rough" for step in walk.steps)


def test_figures_of_roughing_are_round_ones(roughed: Roughed) -> None:
    """Most are whole tenths: the rest are where the outline or a level stretch must be met."""
    frame, _, walk, _ = roughed
    shop = frame.job.shop
    figures = [
        frame.figure(shop.saddle if s.slide == "saddle" else shop.cross, s.tool, s.end.x, s.end.y) for s in walk.steps
    ]
    whole = [abs(f * 10 - round(f * 10)) < 1e-6 for f in figures]
    assert sum(whole) > len(whole) / 2


def test_the_end_is_faced_in_cuts_no_wider_than_the_bite() -> None:
    frame, _, walk, swept = _roughed({"stock.proud": 3.0})
    facing = [
        (s, t)
        for s, t in zip(walk.steps, swept.moves, strict=True)
        if s.slide == "cross" and s.end.y <= 0 and t.area > 0
    ]
    assert len(facing) >= 3
    assert all(t.bite <= 1.03 for _, t in facing)
    assert min(s.end.x for s, _ in facing) <= frame.outline.start.x + walk.tool.nose_radius + 0.35


def test_care_leaves_less_each_time() -> None:
    care = Care()
    assert care.more().heap < care.heap
    assert care.more().cut < care.cut


@pytest.mark.parametrize(
    ("changes", "cross", "saddle"),
    [
        ({}, 0.05, 0.1),
        ({"slide.cross.reads": "radius"}, 0.1, 0.1),
        ({"slide.saddle.count": 0.3}, 0.05, 0.3),
    ],
)
def test_the_grid_of_round_figures(changes: Data, cross: float, saddle: float) -> None:
    """A tenth of what each slide reads; its own count where that is coarser."""
    frame = Frame(job_from_data(pin({"finish.ridge": 0.1, **changes})))
    tool = frame.job.shop.tools[0]
    coarse = frame.round_lattice(tool)
    assert (coarse.dy, coarse.dx) == pytest.approx((cross, saddle))


@pytest.mark.parametrize("nose", [0.8, 1.0, 2.0])
def test_the_end_of_a_bore_is_faced_within_the_bite(nose: float) -> None:
    """Metal stays below the foot of the nose there, and much stands in front of the part."""
    bell: Data = {
        "part.surface": "bore",
        "part.outline": [{"z": 0, "d": 38}, {"z": -6, "d": 26, "convex": 6}, {"z": -22, "d": 26}],
        "part.curve": [0, -6],
        "stock": {"diameter": 46, "hole": 24, "proud": 1},
        "tool.0.nose_radius": nose,
        "limits.bite": 0.5,
    }
    _, _, walk, swept = _roughed(bell)
    faced = [
        took for step, took in zip(walk.steps, swept.moves, strict=True) if step.slide == "cross" and step.end.x > 0
    ]
    assert faced
    assert max(took.bite for took in faced) <= 0.5 * 1.02 + 0.01


@pytest.mark.parametrize(("bite", "nose"), [(1.5, 0.8), (0.5, 0.4)])
def test_a_left_hand_knife_alone_roughs_a_groove(bite: float, nose: float) -> None:
    """It enters every layer at its end toward the chuck and cuts away from it, over the open end as well."""
    groove = {
        "part.outline": [{"z": 0, "d": 20}, {"z": -5, "d": 14}, {"z": -20, "d": 20}, {"z": -40, "d": 20}],
        "part.curve": [-6, -22],
        "stock": {"diameter": 22, "proud": 0, "stick_out": 120},
        "tool": [{"name": "left", "hand": "left", "nose_radius": nose}],
        "limits.bite": bite,
    }
    plan = make_plan(job_from_data(pin(groove)))
    rough = [m for m in plan.moves if m.stage == "rough" and m.cuts]
    assert rough
    assert max(m.bite for m in rough) <= bite * 1.02 + 0.01
    assert all(m.end.x > m.start.x for m in rough if m.slide == "saddle"), "it never cuts toward the chuck"
