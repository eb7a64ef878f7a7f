"""Plain passes: cylinders and faces beside a hollow at the figure of the grid, with no station more."""

from dataclasses import replace

import numpy as np
import pytest
import shapely
from tests.documents.jobs import Data, pin

from ovolo.documents.reading import job_from_data
from ovolo.plan.model import Plan
from ovolo.plan.planner import choose_tools, make_plan
from ovolo.plan.stations.choose_tools import Work
from ovolo.plan.stations.stations import Pass
from ovolo.plan.toolpath.plain_passes import _cut_short, with_plain
from ovolo.plan.view.frame import Frame

RIDGE = 0.1
SHOULDER: Data = {
    "part.outline": [
        {"z": 0, "d": 0},
        {"z": 0, "d": 12},
        {"z": -15, "d": 12},
        {"z": -19, "d": 20, "concave": 4},
        {"z": -19, "d": 24},
        {"z": -40, "d": 24},
    ],
    "part.curve": [-3, -19],
    "stock": {"diameter": 26, "proud": 0.5},
    "finish.ridge": RIDGE,
    "limits.plunge": 6,  # a nose of 3 in a fillet of 4: it is of plain passes alone that this tells
}
GROOVE: Data = {
    **SHOULDER,
    "part.outline": [
        {"z": 0, "d": 0},
        {"z": 0, "d": 24},
        {"z": -5, "d": 24},
        {"z": -5, "d": 20},
        {"z": -9, "d": 12, "concave": 4},
        {"z": -20, "d": 12},
        {"z": -24, "d": 20, "concave": 4},
        {"z": -24, "d": 24},
        {"z": -40, "d": 24},
    ],
    "part.curve": [-5, -24],
    "limits.bite": 3,
}
BORE: Data = {
    "part.surface": "bore",
    "part.outline": [
        {"z": 0, "d": 30},
        {"z": -12, "d": 30},
        {"z": -16, "d": 22, "concave": 4},
        {"z": -16, "d": 16},
        {"z": -30, "d": 16},
    ],
    "part.curve": [-1, -16],
    "stock": {"diameter": 50, "hole": 14, "proud": 0.5},
    "finish.ridge": RIDGE,
    "limits.plunge": 7,
}
JOBS = {"toward the free end": SHOULDER, "between two fillets": GROOVE, "in a bore": BORE}


@pytest.fixture(scope="module", params=JOBS)
def plan(request: pytest.FixtureRequest) -> Plan:
    """Each job, planned once."""
    return make_plan(job_from_data(pin(JOBS[request.param])))


def _first_work(plan: Plan) -> tuple[Frame, Work]:
    frame, assignment, _ = choose_tools(plan.job, plan.tools)
    return frame, assignment.works[0]


def test_cylinders_and_faces_are_left_at_the_figure_of_the_grid(plan: Plan) -> None:
    """Over the middle of every straight piece inside the curve less than a count is left, the ridge being twenty."""
    border = shapely.LineString([tuple(p) for p in plan.prediction.surface])
    frame = Frame(plan.job)
    count = max(plan.job.shop.cross.step, plan.job.shop.saddle.step)
    start, end = frame.curve_ends
    for k in np.flatnonzero(~frame.chain.is_arc):
        middle = float(frame.chain.starts[k] + frame.chain.starts[k + 1]) / 2
        if not start < middle < end:
            continue
        (x,), (y,) = frame.chain.points(np.array([middle]))
        assert border.distance(shapely.Point(frame.place(float(x), float(y)))) < count


def test_no_station_more(plan: Plan) -> None:
    assert plan.stations == plan.fewest
    assert len([m for m in plan.moves if m.station is not None]) == plan.stations


def test_their_figures_are_kept_as_exactly_as_those_of_a_station(plan: Plan) -> None:
    frame, work = _first_work(plan)
    plain = [p for p in with_plain(frame, work.tool, work.passes, work.stretches) if not p.station]
    widest = max(m.within for m in plan.moves if m.station is not None)
    assert plain
    for item in plain:
        place = frame.place(item.last, item.y)
        (move,) = [m for m in plan.moves if m.end == pytest.approx(place, abs=1e-9) and m.stage == "finish"]
        assert move.within <= widest


def test_a_cylinder_that_a_station_goes_along_is_not_gone_along_twice() -> None:
    """A dome with its shank: the station that finishes the shank does so from end to end."""
    plan = make_plan(job_from_data(pin({"part.curve": [0, -20]})))
    frame, work = _first_work(plan)
    found = with_plain(frame, work.tool, work.passes, work.stretches)
    assert len(found) == len(work.passes)
    last = found[-1]
    assert last.y == pytest.approx(9 + work.tool.nose_radius)
    assert last.first >= -9
    assert last.last <= -20


def test_what_has_no_straight_piece_stays_as_it_is() -> None:
    frame, work = _first_work(make_plan(job_from_data(pin({"part.curve": [0, -6]}))))
    assert with_plain(frame, work.tool, work.passes, work.stretches) == work.passes


def test_a_level_sweep_ends_where_the_plain_pass_begins() -> None:
    frame, work = _first_work(make_plan(job_from_data(pin(SHOULDER))))
    found = with_plain(frame, work.tool, work.passes, work.stretches)
    (i,) = [i for i, p in enumerate(found) if not p.station and p.first > p.last]
    assert found[i + 1].first == found[i].last
    assert replace(found[i + 1], first=0.0) in [replace(p, first=0.0) for p in work.passes]


def test_a_level_sweep_keeps_its_end_in_the_hollow_whichever_side_that_is() -> None:
    """Also where it goes one count farther than the plain pass at its other end; where it goes farther, both ends."""
    plain = Pass(8.0, -1.0, -5.0, 3.0, station=False)
    before, after = Pass(8.1, -0.995, -5.3, 5.2), Pass(8.1, -0.7, -5.005, 0.8)
    both = Pass(8.1, -0.7, -5.3, 5.2)
    assert _cut_short([plain, before], 0.005)[1] == replace(before, first=-5.0)
    assert _cut_short([after, plain], 0.005)[0] == replace(after, last=-1.0)
    assert _cut_short([plain, both], 0.005)[1] == both


def test_a_plain_pass_goes_on_over_the_corner_where_it_may() -> None:
    """A taper that climbs to a cylinder, and another behind it: the sweep began before the corner."""
    changes = {
        **SHOULDER,
        "part.outline": [
            {"z": 0, "d": 0},
            {"z": 0, "d": 18},
            {"z": -8, "d": 18},
            {"z": -10, "d": 20},
            {"z": -16, "d": 20},
            {"z": -18, "d": 22},
            {"z": -34, "d": 22},
        ],
        "part.curve": [-1, -18],
        "tool.0.nose_radius": 0.8,
        "finish.ridge": 0.05,
        "slide.cross.count": 0.02,
        "slide.saddle.count": 0.02,
    }
    plan = make_plan(job_from_data(pin(changes)))
    assert plan.prediction.ridge_max <= 0.05
    assert plan.stations == plan.fewest
