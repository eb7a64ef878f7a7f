"""Outlines that double back: what is seen of them is checked, and what hides is said."""

from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from tests.check.simulated import Wrong, as_csv, make, measure

from ovolo.check.checking import Checked, check, limits_of
from ovolo.check.measuring import measuring_list
from ovolo.check.positions import positions_of
from ovolo.check.profile import heights, places
from ovolo.check.seen import hidden_of, plan_as_seen
from ovolo.documents.check.document import check_as_data
from ovolo.documents.check.readings import readings_from_text
from ovolo.documents.plan.document import plan_as_data
from ovolo.documents.reading import read_job
from ovolo.documents.resolved import job_as_data
from ovolo.plan.model import Plan
from ovolo.plan.planner import make_plan

KNOB = Path(__file__).parents[2] / "examples" / "pawl-knob.toml"
"""A knob that is hollow behind its rim, from z -9 to z -7.957."""

ZS = [-0.6, -1, -1.5, -2, -3, -4, -5, -6, -7, -7.9, -8.2, -8.6, -8.9, -9.5, -10, -12, -14, -16, -18]


@pytest.fixture(scope="module")
def knob() -> Plan:
    return make_plan(read_job(KNOB))


def checked(knob: Plan, wrong: Wrong) -> Checked:
    part = make(job_as_data(knob.job), plan_as_data(knob), wrong, 3)
    read = as_csv(measure(part, ZS, 5, u=0.01, u_z=0.02), u=0.01, u_z=0.02)
    return check(knob, readings_from_text(read, knob.job))


def test_a_lip_hides_what_lies_under_it(knob: Plan) -> None:
    (hidden,) = hidden_of(knob.job)
    assert (hidden.low, hidden.level, hidden.toward_chuck) == (-9.0, 15.0, True)
    assert hidden.high == pytest.approx(-7.9574, abs=1e-3)
    xs = [p.x for p in plan_as_seen(knob).job.part.outline.flattened(1e-3)]
    assert all(after <= before + 1e-9 for before, after in pairwise(xs))


def test_tools_under_the_rim_leave_what_is_seen_over_it(knob: Plan) -> None:
    at = positions_of(knob)
    x = np.array([-9.5, -8.9, -8.5, -8.0, -7.0])
    assert heights(at, places(at, x, 0.1))[1:] == pytest.approx([15.0] * 4, abs=1e-6)


def test_a_knob_that_is_hollow_behind_is_judged_as_far_as_it_is_seen(knob: Plan) -> None:
    found = checked(knob, Wrong())
    assert found.verdict == "good"
    assert not found.causes
    assert "hidden by an overhang: z -7.957 to -9" in check_as_data(found)["says"]


def test_a_cause_is_named_and_the_correction_keeps_the_hollow(knob: Plan) -> None:
    found = checked(knob, Wrong(cross=0.15))
    (cause,) = found.causes
    assert cause.cause.name == "cross_offset"
    assert cause.value == pytest.approx(0.15, abs=2 * cause.u)
    assert found.correction.plan is not None
    assert hidden_of(found.correction.plan.job)


def test_the_list_of_what_to_measure_is_made_for_it_too(knob: Plan) -> None:
    assert len(measuring_list(knob, limits_of(knob)).places) >= 8
