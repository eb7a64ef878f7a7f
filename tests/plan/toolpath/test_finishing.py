"""Finishing: settings in runs that need no withdrawal, every way between them free, each cut narrow."""

import itertools
from dataclasses import replace

import numpy as np
import pytest
from tests.documents.jobs import Data
from tests.plan.toolpath.passes import frame_of, passes_of

from ovolo.plan.steps import Slack, Walk
from ovolo.plan.toolpath.finishing import Finisher
from ovolo.plan.view.frame import Frame

COVE: Data = {
    "part.outline": [
        {"z": 0, "d": 0},
        {"z": 0, "d": 20},
        {"z": -5, "d": 20},
        {"z": -11, "d": 20, "concave": 4},
        {"z": -30, "d": 20},
    ],
    "part.curve": [-4, -12],
    "stock": {"diameter": 21},
    "tool.0.nose_radius": 1,
}


def _finished(frame: Frame, slack: Slack | None = None) -> Walk:
    tool = frame.job.shop.tools[0]
    walk = Walk(tool, 6.0, 15.0, slack or Slack(), stage="finish")
    Finisher(frame, walk, 15.0, 1).finish(passes_of(frame))
    return walk


BALL: Data = {
    "part.outline": [
        {"z": 0, "d": 0},
        {"z": -9, "d": 18, "convex": 9},
        {"z": -17, "d": 8.246, "convex": 9},
        {"z": -24, "d": 8.246},
    ],
    "part.curve": [0, -15.4],
    "stock.stick_out": 45,
    "tool.0.nose_radius": 1,
}


@pytest.mark.parametrize(("changes", "sides"), [(COVE, {False}), (BALL, {True, False})], ids=["cove", "ball"])
def test_the_saddle_is_brought_so_that_the_cut_pushes_it_against_its_screw(changes: Data, sides: set[bool]) -> None:
    """The metal pushes the nose out along the outline's normal, so the saddle must have come against it: toward the
    chuck in front of a crest, away from the chuck behind it. In a cove it plunges on the side nearer the chuck only."""
    frame = frame_of(changes)
    walk, passes = _finished(frame, Slack(0.4, 0.4)), passes_of(frame)
    ways = set()
    for item in passes:
        nx, _ = frame.chain.normals(*frame.chain.locate(np.array([item.foot])))
        came = [k for k, s in enumerate(walk.steps) if s.slide == "cross" and s.end == (item.first, item.y)]
        plunged = [k for k in came if walk.steps[k].start.y > item.y + 1e-6]
        if abs(nx[0]) < 0.05 or not plunged:
            continue
        last = next(s for s in reversed(walk.steps[: plunged[0]]) if s.slide == "saddle")
        assert (last.end.x - last.start.x) * nx[0] < 0, item
        ways.add(bool(nx[0] > 0))
    assert ways == sides


@pytest.mark.parametrize("changes", [None, COVE], ids=["dome", "cove"])
@pytest.mark.parametrize("slack", [Slack(), Slack(0.4, 0.4)], ids=["readout", "dial"])
def test_every_way_is_free_of_the_part(changes: Data | None, slack: Slack) -> None:
    frame = frame_of(changes)
    walk = _finished(frame, slack)
    line = frame.contact_line(walk.tool)
    for step in walk.steps:
        lowest = min(step.start.y, step.end.y)
        needed = line.highest(step.start.x, step.end.x)
        assert lowest >= needed - 1e-6, step


@pytest.mark.parametrize("changes", [None, COVE], ids=["dome", "cove"])
def test_each_setting_is_reached_once_and_numbered_as_it_is_cut(changes: Data | None) -> None:
    frame = frame_of(changes)
    marked = [s for s in _finished(frame).steps if s.station is not None]
    assert [s.station for s in marked] == list(range(1, len(marked) + 1))
    ends = {(round(s.end.x, 6), round(s.end.y, 6)) for s in marked}
    assert ends == {(round(p.last, 6), round(p.y, 6)) for p in passes_of(frame)}


def test_two_moves_a_station_on_a_dome() -> None:
    """No withdrawal between the settings of a run."""
    steps, stations = _finished(frame_of()).steps, len(passes_of(frame_of()))
    assert len(steps) <= 2 * stations + 6


def test_a_plain_pass_goes_along_the_cylinder() -> None:
    frame = frame_of({"part.curve": [0, -20], "tool.0.nose_radius": 2})
    walk = _finished(frame)
    long = max(walk.steps, key=lambda s: abs(s.end.x - s.start.x) if s.station else 0)
    assert long.end.y == pytest.approx(11)
    assert long.end.x <= -19


def test_thinning_goes_over_a_layer_farther_out() -> None:
    frame = frame_of()
    walk = Walk(frame.job.shop.tools[0], 6.0, 15.0, stage="finish")
    layer = [replace(p, y=p.y + 0.6) for p in passes_of(frame)]
    Finisher(frame, walk, 15.0, 1).thin(layer)
    line = frame.contact_line(walk.tool)
    ends = {(round(s.end.x, 6), round(s.end.y, 6)) for s in walk.steps}
    assert ends >= {(round(p.last, 6), round(p.y, 6)) for p in layer}
    assert all(s.station is None for s in walk.steps)
    assert all(min(s.start.y, s.end.y) >= line.highest(s.start.x, s.end.x) - 1e-6 for s in walk.steps)


def test_the_idle_slide_stands_closed_under_every_cut() -> None:
    """On dials the saddle that stands still while the cross slide cuts has last gone toward the chuck on a dome."""
    frame = frame_of()
    steps = _finished(frame, Slack(0.4, 0.4)).steps
    for i, step in enumerate(steps):
        if step.station is None or step.slide != "cross" or step.end.y > step.start.y:
            continue
        foot = np.array([step.end.x]), np.array([step.end.y])
        u, _ = frame.chain.project(*foot, 20)
        nx, _ = frame.chain.normals(*frame.chain.locate(u))
        if abs(nx[0]) < 1e-6:
            continue
        last = next(s for s in reversed(steps[:i]) if s.slide == "saddle")
        assert (last.end.x < last.start.x) == (nx[0] > 0)


def test_the_end_face_is_finished_where_it_stands_over_the_curve() -> None:
    corner = {
        "part.outline": [{"z": 0, "d": 10}, {"z": -4, "d": 18, "convex": 4}, {"z": -24, "d": 18}],
        "part.curve": [0, -4],
        "tool.0.nose_radius": 1,
    }
    frame = frame_of(corner)
    walk = Walk(frame.job.shop.tools[0], 6.0, 15.0, stage="finish")
    assert Finisher(frame, walk, 15.0, 1).face()
    for before, after in itertools.pairwise(walk.steps):
        assert after.start == before.end
