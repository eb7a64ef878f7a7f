"""Every way back is swept free of metal, jaws and centre, from 200 random places."""

import os
import random

import numpy as np
import pytest
import shapely
from shapely.geometry.base import BaseGeometry
from tests.show.plans import planned

from ovolo.geometry.segments import Point
from ovolo.setup.way_back import GRAZE, clear_place, obstacles, tool_at, way_out, ways_back

MANY = int(os.environ.get("OVOLO_WAYS_BACK", "200"))
NAMES = ("bridge-pin", "windlass-handle", "bush", "winch-pin-inch", "lip")
SAMPLED = 0.25
"""The ways were tried from five places of each move: in between a little more may be grazed, as a share."""


def _wide(hull: BaseGeometry, metal: BaseGeometry) -> float:
    """How wide what a tool would take is, mm."""
    taken = shapely.intersection(hull, metal)
    return 2 * taken.area / taken.length if taken.area > 1e-9 else 0.0


@pytest.mark.parametrize("name", NAMES)
def test_from_wherever_the_tool_may_be(name: str) -> None:
    plan, drawn = planned(name), random.Random(name)
    ways = ways_back(plan)
    for _ in range(max(1, MANY // len(NAMES))):
        n = drawn.randrange(1, len(plan.moves) + 1)
        move, way = plan.moves[n - 1], ways[n - 1]
        if way.out is None:
            continue
        tool = next(tool for tool in plan.tools if tool.name == move.tool)
        share = drawn.random()
        place = Point(*(np.asarray(move.start) * (1 - share) + np.asarray(move.end) * share).tolist())
        here = obstacles(plan, n - 1)
        for hull in tool_at(plan, tool, (move.start, place)):
            here = shapely.difference(here, hull)
        for piece in way_out(plan, tool, place, way.aside):
            for hull in tool_at(plan, tool, piece):
                assert _wide(hull, here) <= (1 + SAMPLED) * GRAZE, (n, place, way)


@pytest.mark.parametrize("name", NAMES)
def test_where_it_goes_on_can_be_reached_from_outside(name: str) -> None:
    plan = planned(name)
    for way in ways_back(plan):
        move = plan.moves[way.go_on - 1]
        assert way.go_on <= way.n
        assert move.tool == plan.moves[way.n - 1].tool
        tool = next(tool for tool in plan.tools if tool.name == move.tool)
        clear, outside = clear_place(plan, tool), plan.frame.sign > 0
        begin = Point(move.start.x, clear) if outside else Point(clear, move.start.y)
        first = next(m.n for m in plan.moves if m.tool == move.tool)
        if way.go_on == first:
            continue  # where a tool begins, `stand` says how
        for hull in tool_at(plan, tool, (begin, move.start)):
            assert _wide(hull, obstacles(plan, way.go_on - 1)) <= GRAZE


def test_almost_everywhere_there_is_a_way() -> None:
    for name in ("bridge-pin", "winch-pin-inch", "hinge-pin-dials"):
        assert all(way.out for way in ways_back(planned(name))), name
