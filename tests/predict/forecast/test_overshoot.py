"""What is worked out beforehand of an overshoot agrees with a sweep made afresh, for 200 random ones."""

import math
import os
import random

import numpy as np
import pytest
import shapely
from tests.show.plans import planned

from ovolo.plan.model import Move, Plan
from ovolo.plan.sweep.sweep import tool_shape
from ovolo.predict.forecast.overshoot import FARTHEST, overshoots
from ovolo.predict.forecast.sampled import between

MANY = int(os.environ.get("OVOLO_OVERSHOOTS", "200"))
NAMES = ("bridge-pin", "windlass-handle", "bush", "winch-pin-inch", "hinge-pin-dials")
CLOSE = 0.004
"""An answer is told to 0.01 mm."""


def swept_below(plan: Plan, move: Move, past: float) -> float:
    """How deep below the outline a move cuts that goes past its figure: the hull of the tool over the whole of it."""
    share = past / max(move.travel, 1e-12)
    end = np.asarray(move.end) + share * (np.asarray(move.end) - np.asarray(move.start))
    tool = next(tool for tool in plan.tools if tool.name == move.tool)
    shape = tool_shape(tool) * np.array([1.0, float(plan.frame.sign)])
    track = shapely.MultiPoint(np.vstack([shape + np.asarray(place) for place in (move.end, end)])).convex_hull
    taken = shapely.intersection(track, plan.swept.part)
    if taken.is_empty:
        return 0.0
    outline = shapely.LineString(list(plan.job.part.outline.flattened(1e-4)))
    dense = shapely.get_coordinates(shapely.segmentize(taken, 0.02))
    return float(np.max(shapely.distance(shapely.points(dense), outline)))


@pytest.mark.parametrize("name", NAMES)
def test_every_answer_is_that_of_a_fresh_sweep(name: str) -> None:
    plan, drawn = planned(name), random.Random(name)
    answers = overshoots(plan)
    harmful = 0
    for _ in range(max(1, MANY // len(NAMES))):
        n = drawn.randrange(len(plan.moves))
        past = math.exp(drawn.uniform(math.log(0.005), math.log(FARTHEST)))
        fresh = swept_below(plan, plan.moves[n], past)
        said = between(answers[n].below, past) if answers[n].below else 0.0
        assert said == pytest.approx(fresh, abs=CLOSE + 0.01 * fresh), (plan.moves[n], past)
        harmful += fresh > 0.01
    assert harmful


def test_a_way_back_into_the_air_cuts_nothing() -> None:
    plan = planned("bridge-pin")
    for move, answer in zip(plan.moves, overshoots(plan), strict=True):
        assert answer.n == move.n
        if move.toward in ("out", "away from the chuck") and not move.cuts:
            assert answer.cuts_from is None
            assert not answer.below
