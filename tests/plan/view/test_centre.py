"""Work held on a centre: no move touches it, the nub stays, and the curve is finished as far as tools can come."""

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from tests.documents.jobs import Data, pin

from ovolo.documents.plan.words import notes_of
from ovolo.documents.reading import job_from_data
from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Line, Point
from ovolo.plan.model import Plan
from ovolo.plan.planner import make_plan
from ovolo.plan.sweep.sweep import tool_shape
from ovolo.plan.view.centre import CLEAR, Centre, centre_of
from ovolo.plan.view.frame import Frame
from ovolo.shop.lathe import Lathe

HELD: Data = {"holding": "chuck and centre", "centre_hole": 3, "centre_body": 12}
KNIFE: Data = {"name": "knife", "nose_radius": 0.4}
HANDLE = [{"z": 0, "d": 12}, {"z": -10, "d": 16, "convex": 30}, {"z": -30, "d": 12, "convex": 60}, {"z": -45, "d": 12}]


def _dome(**lathe: object) -> Plan:
    return make_plan(job_from_data(pin({"lathe": HELD | lathe, "tool.1": KNIFE, "stock.proud": 1.0})))


def _handle(**lathe: object) -> Plan:
    changes: Data = {"part.outline": HANDLE, "part.curve": [0, -30], "stock.stick_out": 60, "stock.proud": 1.0}
    return make_plan(job_from_data(pin({"lathe": HELD | lathe, "tool.1": KNIFE, "stock.diameter": 18} | changes)))


def _real_centre(plan: Plan) -> shapely.Polygon:
    """A cone of 60° in its hole and the body behind it, without any clearance."""
    shop = plan.job.shop
    assert shop.lathe.centre_hole is not None
    assert shop.lathe.centre_body is not None
    mouth, body, front = shop.lathe.centre_hole / 2, shop.lathe.centre_body / 2, shop.stock.proud
    rise = math.tan(math.radians(30))
    tip, shoulder = front - mouth / rise, front + (body - mouth) / rise
    return shapely.Polygon([(tip, 0), (shoulder, body), (200, body), (200, 0)])


def _nearest(plan: Plan) -> float:
    """The least distance of any tool from the centre in any move, mm, by a sweep of its own."""
    centre, tools = _real_centre(plan), {t.name: tool_shape(t) for t in plan.tools}
    tracks = [
        shapely.MultiPoint([*(tools[m.tool] + [*m.start]), *(tools[m.tool] + [*m.end])]).convex_hull for m in plan.moves
    ]
    return min(float(track.distance(centre)) for track in tracks)


@pytest.mark.parametrize("body", [3.0, 8.0, 17.8, 30.0])
def test_no_move_comes_near_the_centre(body: float) -> None:
    plan = _handle(centre_body=body)
    assert _nearest(plan) >= CLEAR - 1e-3
    assert plan.prediction.ridge_max <= 0.05
    assert plan.prediction.gouge_max < 1.5e-3


def test_without_it_a_move_would() -> None:
    held = _handle()
    shop = replace(held.job.shop, lathe=replace(held.job.shop.lathe, holding="chuck"))
    free = make_plan(replace(held.job, shop=shop))
    assert _nearest(free) == 0.0


@pytest.mark.parametrize("holding", ["chuck and centre", "between centres"])
def test_a_dome_is_finished_as_far_as_the_nub(holding: str) -> None:
    plan = _dome(holding=holding)
    frame = Frame(plan.job)
    assert frame.centre is not None
    assert _nearest(plan) >= CLEAR - 1e-3
    x, y = (float(v[0]) for v in frame.chain.points(np.array([frame.nub_end])))
    assert frame.centre.nub < y < frame.centre.nub + 1.0  # the knife's small nose gets near it
    standing = [r for z, r in plan.prediction.surface if abs(z - 0.5) < 1e-6]
    assert min(standing, default=2.5) >= frame.centre.nub - 1e-6
    assert any(f"{x:.4g} mm" in note for note in notes_of(plan))
    assert plan.prediction.ridge_max <= 0.05


def test_the_nub_is_cut_off_last() -> None:
    plan = _dome()
    last = plan.before[-1]
    assert (last.move, last.kind) == (plan.moves[-1].n, "say")
    assert "draw the tailstock back" in last.text
    assert "Ø 5 mm" in last.text
    assert any("cut it off last" in note for note in notes_of(plan))


def test_the_metal_of_the_nub_is_never_cut() -> None:
    for plan in (_dome(), _handle()):
        nub = shapely.box(0.0, 0.0, 1.0, 2.5 - 1e-6)
        shapes = {t.name: tool_shape(t) for t in plan.tools}
        for m in plan.moves:
            track = shapely.MultiPoint([*(shapes[m.tool] + [*m.start]), *(shapes[m.tool] + [*m.end])]).convex_hull
            assert not track.intersects(nub)


def test_a_face_beyond_the_nub_leaves_the_curve_whole() -> None:
    assert Frame(_handle().job).nub_end == 0.0


def test_sizes_not_told_are_said() -> None:
    plan = make_plan(job_from_data(pin({"lathe.holding": "chuck and centre"})))
    assert any("nothing was checked against the centre" in note for note in notes_of(plan))
    assert plan.moves == make_plan(job_from_data(pin())).moves


def test_the_nub_ends_where_the_part_is_as_thick() -> None:
    slope = Outline((Line(Point(0.0, 1.0), Point(-10.0, 11.0)),))
    found = centre_of(Lathe(holding="between centres", centre_hole=4.0, centre_body=20.0), slope, 2.0)
    assert found is not None
    assert found.nub == 3.0
    assert found.inner == pytest.approx(-10.0)  # the first flattened place that is as high
    assert found.top == pytest.approx(10.0 + CLEAR)


def test_a_body_no_thicker_than_the_nub() -> None:
    centre = Centre(front=1.0, hole=2.0, body=2.2, inner=0.0)
    assert centre.top == centre.nub
    assert centre.height(centre.chain.points(np.array([0.0, 5.0]))[0]).tolist() == [3.0, 3.0]
