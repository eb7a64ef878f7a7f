"""What comes ahead of moves: tool, touch, measure, lock, and a word before a knife goes in under a lip."""

import pytest
from tests.documents.jobs import Data, pin

from ovolo.documents.reading import job_from_data
from ovolo.plan.planner import make_plan

RIM = 15.0
"""Radius of the knob below, mm."""

KNOB: Data = {
    "part.outline": [
        {"z": 0, "d": 20},
        {"z": -5, "d": 30, "convex": 5},
        {"z": -9, "d": 30},
        {"z": -7.9726, "d": 18.3473},
        {"z": -8.9574, "d": 16, "concave": 1},
        {"z": -28, "d": 16},
    ],
    "stock": {"diameter": 32, "proud": 0.5, "stick_out": 60},
    "limits.bite": 3.0,
}
LEANING = {"name": "leaning", "hand": "left", "nose_radius": 0.8, "edge_angle": 105, "point_angle": 35}
KNIFE = {"name": "knife", "nose_radius": 0.8, "point_angle": 35}
NOSE = {"name": "nose", "kind": "round", "nose_radius": 1.0}


def test_tool_touch_measure_lock() -> None:
    plan = make_plan(job_from_data(pin()))
    kinds = [before.kind for before in plan.before]
    assert kinds == ["tool", "touch", "stand", "lock", "measure", "stand"]
    first_finish = next(m.n for m in plan.moves if m.stage == "finish")
    (measured,) = [before.measured for before in plan.before if before.measured is not None]
    stop = next(before.move for before in plan.before if before.kind == "measure")
    assert [before.move for before in plan.before] == [1, 1, 1, first_finish, stop, stop]
    assert first_finish <= measured.after < stop


@pytest.mark.parametrize(
    ("first", "curve", "ridge"), [(KNIFE, [0, -20], 0.06), (NOSE, [0, -8.5], 0.05)], ids=["finishes", "only roughs"]
)
def test_a_word_before_a_knife_goes_in_under_a_lip(first: Data, curve: list[float], ridge: float) -> None:
    """Whether or not it has finished anything from above before: right ahead of the first cut under the rim."""
    job = {**KNOB, "tool": [first, LEANING], "part.curve": curve, "finish.ridge": ridge}
    plan = make_plan(job_from_data(pin(job)))
    (said,) = [b.move for b in plan.before if "cuts under an overhang" in b.text]
    # Under the rim, whose edge is at z = -9: the nose of 0.8 mm reaches beyond it.
    beyond = [m for m in plan.moves if m.cuts and -9.8 < m.end.x < -7 and m.end.y < RIM]
    under = [m.n for m in beyond if m.tool == "leaning"]
    assert under
    assert said <= under[0]
    assert plan.moves[said - 1].tool == "leaning"
    assert plan.moves[said - 1].start.y > RIM, "it still stands over the rim"
