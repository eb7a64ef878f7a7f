"""Which tool cuts what: the fewest tools, the larger noses first, and nothing where they don't do it together."""

from itertools import pairwise

import numpy as np
import pytest
from tests.documents.jobs import pin

from ovolo.documents.reading import job_from_data
from ovolo.plan.stations.choose_tools import assign, fewest_for, reach_of
from ovolo.plan.view.frame import Frame

RIGHT = {"name": "right", "nose_radius": 0.4}
LEFT = {"name": "left", "nose_radius": 0.4, "hand": "left"}
ROUND = {"name": "round", "kind": "round", "nose_radius": 1.5}
WIDE = {"name": "wide", "kind": "round", "nose_radius": 4}

# A cove of R 5 whose sides stand at 53°: steeper than either knife reaches alone.
COVE = [{"z": 0, "d": 0}, {"z": 0, "d": 24}, {"z": -6, "d": 24}, {"z": -14, "d": 24, "concave": 5}, {"z": -40, "d": 24}]


def _frame(*tools: object) -> Frame:
    changes = {"part.outline": COVE, "part.curve": [-5, -15], "stock.diameter": 25, "stock.stick_out": 60}
    return Frame(job_from_data(pin({**changes, "tool": list(tools), "finish.ridge": 0.05})))


def _assigned(*tools: object) -> dict[str, int] | None:
    frame = _frame(*tools)
    found = assign(frame, [reach_of(frame, t, 0.05) for t in frame.job.shop.tools], 0.05)
    if found is None:
        return None
    assert found.stations == fewest_for(frame, frame.job.shop.tools, 0.05)
    assert found.proof.fewer == found.stations - 1
    assert found.proof.leaves is None or found.proof.leaves > 0.05
    assert all(work.ridge <= 0.05 for work in found.works)
    return {work.tool.name: len(work.passes) for work in found.works}


def test_one_tool_where_one_does_it() -> None:
    """The round nose does it alone; of all that do, the one with the fewest stations."""
    found = _assigned(RIGHT, LEFT, ROUND)
    assert found is not None
    assert list(found) == ["round"]
    small = _assigned(RIGHT, LEFT, {**ROUND, "nose_radius": 0.8})
    assert small is not None
    assert small["round"] > found["round"]


def test_two_hands_where_neither_does_it_alone() -> None:
    assert _assigned(RIGHT) is None
    assert _assigned(LEFT) is None
    found = _assigned(RIGHT, LEFT)
    assert found is not None
    assert set(found) == {"right", "left"}


def test_nothing_where_no_tools_do_it_together() -> None:
    assert _assigned({**ROUND, "nose_radius": 8}, RIGHT) is None


def test_the_order_of_the_drawer_changes_nothing() -> None:
    assert _assigned(LEFT, RIGHT, WIDE) == _assigned(WIDE, RIGHT, LEFT)


@pytest.mark.parametrize("tool", [RIGHT, LEFT])
def test_reach_and_what_it_misses_make_up_the_curve(tool: object) -> None:
    frame = _frame(tool)
    reach = reach_of(frame, frame.job.shop.tools[0], 0.05)
    pieces = sorted([*reach.covered, *reach.missed])
    assert pieces[0][0] == pytest.approx(frame.stretch[0])
    assert pieces[-1][1] == pytest.approx(frame.stretch[1])
    for (_, end), (begin, _) in pairwise(pieces):
        assert begin == pytest.approx(end, abs=1e-6)
    assert reach.missed


def test_a_right_hand_knife_misses_the_side_that_faces_the_chuck() -> None:
    """Its trailing edge clears 32°: the free side of the hollow, which falls at up to 53°, is out of its reach."""
    frame = _frame(RIGHT)
    (gap,) = reach_of(frame, frame.job.shop.tools[0], 0.05).missed
    x, _ = frame.chain.points(np.array(gap))
    assert -6.1 < x[0] < -5.9
    assert x[1] > -10
