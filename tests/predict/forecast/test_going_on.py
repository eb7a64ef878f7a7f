"""What the part becomes if the next setting is taken from where a slide stopped: as a fresh sweep of all moves."""

import os
import random

import pytest
from tests.show.plans import planned

from ovolo.plan.sweep.remaining import left_standing
from ovolo.plan.sweep.sweep import sweep
from ovolo.predict.forecast.going_on import FARTHEST_ON, going_on, moved_on
from ovolo.predict.forecast.sampled import between

MANY = int(os.environ.get("OVOLO_OVERSHOOTS", "200")) // 4
NAMES = ("bridge-pin", "bush", "winch-pin-inch", "hinge-pin-dials")
CLOSE = 0.005
"""An answer is said to 0.01 mm."""


def judged(name: str) -> tuple[int, int]:
    """Random answers against sweeps of all moves; how many made a ridge higher, how many cut too deep."""
    plan, drawn = planned(name), random.Random(name)
    swept = plan.swept
    answers = [answer for answer in going_on(plan) if answer is not None]
    _, before, _ = swept.over_curve
    higher = deeper = 0
    for _ in range(max(1, MANY // len(NAMES))):
        answer, past = drawn.choice(answers), drawn.uniform(0.0, FARTHEST_ON)
        fresh = sweep(swept.frame, moved_on(swept.steps, answer.n - 1, past))
        _, height, _ = left_standing(swept.frame, fresh.rest)
        if past <= answer.ridge[-1][0]:
            said = max(between(answer.ridge, past), float(before.max()))
            assert said == pytest.approx(float(height.max()), abs=CLOSE + 0.02 * said), (name, answer.n, past)
        below = between(answer.below, past)
        assert below == pytest.approx(fresh.gouge, abs=CLOSE + 0.02 * fresh.gouge), (name, answer.n, past)
        higher += float(height.max()) > float(before.max()) + 0.005
        deeper += fresh.gouge > 0.01
    return higher, deeper


def test_going_on_leaves_what_a_fresh_sweep_leaves() -> None:
    found = [judged(name) for name in NAMES]
    assert sum(higher for higher, _ in found) > 3
    assert sum(deeper for _, deeper in found) > 3


def test_only_finishing_moves_with_a_cut_behind_them_have_an_answer() -> None:
    plan = planned("bridge-pin")
    for move, answer in zip(plan.moves, going_on(plan), strict=True):
        assert answer is None or (move.stage == "finish" and answer.n == move.n)
    assert sum(answer is not None for answer in going_on(plan)) >= plan.stations - 1
