"""Laying down by minutes: a plan costs no more than one whose tools only make passes, and no rule is broken."""

import itertools

import pytest
from tests.documents.jobs import Data, pin

from ovolo.documents.reading import job_from_data
from ovolo.plan.planner import choose_tools
from ovolo.plan.toolpath import plan_moves
from ovolo.plan.toolpath.lay_down import lay_down
from ovolo.plan.toolpath.minutes import Price
from ovolo.plan.toolpath.moves import CUTS
from ovolo.plan.toolpath.plan_moves import Draft, rules_broken
from ovolo.plan.view.frame import Frame

SHOULDER: list[Data] = [{"z": 0, "d": 12}, {"z": -24, "d": 12}, {"z": -24, "d": 20}]


def _laid(changes: Data) -> tuple[Frame, Draft, Draft]:
    job = job_from_data(pin(changes))
    frame, assignment, reaches = choose_tools(job, job.shop.tools)
    drawer = [reach.tool for reach in reaches if reach.side is None]
    return frame, lay_down(frame, assignment, drawer), plan_moves.lay_down(frame, assignment, drawer)


def _minutes(frame: Frame, draft: Draft) -> float:
    return Price.of(frame).seconds(draft.steps, [took.area > CUTS for took in draft.swept.moves]) / 60


@pytest.mark.parametrize(
    "changes",
    [{}, {"part": {"outline": SHOULDER, "curve": [0, -18]}, "stock": {"diameter": 20, "proud": 0.5}}],
    ids=["pin", "shoulder"],
)
def test_it_takes_less_time_than_passes_alone_and_breaks_no_rule(changes: Data) -> None:
    frame, draft, passes = _laid(changes)
    assert draft.broken == rules_broken(frame, draft.steps, draft.swept) == 0
    assert _minutes(frame, draft) <= _minutes(frame, passes)
    assert [stage for stage, _ in itertools.groupby(s.stage for s in draft.steps)][-1] == "finish"
