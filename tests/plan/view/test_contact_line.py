"""The contact line: the highest of a stretch, and how far the way along it is free."""

import math

import numpy as np
import pytest
from tests.documents.jobs import pin

from ovolo.documents.reading import job_from_data
from ovolo.plan.view.contact_line import ContactLine
from ovolo.plan.view.frame import Frame

PIN = Frame(job_from_data(pin()))
NOSE = PIN.job.shop.tools[0]


def test_how_far_the_way_is_free() -> None:
    """Level toward the chuck above a dome: until the nose touches it."""
    line = PIN.contact_line(NOSE)
    stop = line.free_toward(4.0, -20.0, 6.0)
    assert stop == pytest.approx(-9 + math.sqrt(144 - 36), abs=0.006)
    assert stop >= -9 + math.sqrt(144 - 36)
    assert line.free_toward(4.0, -20.0, 12.0) == -20.0
    assert line.free_toward(-20.0, -10.0, 12.0) == -10.0


def test_many_ways_at_once_are_as_free_as_one_by_one() -> None:
    dice = np.random.default_rng(3)
    x = np.arange(0.0, 10.0, 0.01)
    line = ContactLine(x, 2.0 + np.sin(3 * x), 0, 1)
    start, target = dice.uniform(0.5, 9.5, (2, 200))
    y = 2.0 + np.sin(3 * start) + dice.uniform(0.01, 1.5, 200)
    for ahead in (True, False):
        goal = np.minimum(start, target) if ahead else np.maximum(start, target)
        found = line.limits(start, y, goal, ahead=ahead)
        one_by_one = [line.free_toward(a, b, c) for a, b, c in zip(start, goal, y, strict=True)]
        assert found == pytest.approx(one_by_one, abs=0.021)


def test_the_highest_of_a_stretch_and_of_none() -> None:
    line = ContactLine(np.arange(5.0), np.array([1.0, 4.0, 2.0, 3.0, 0.0]), 0, 1)
    assert line.highest(3.0, 2.0) == 3.0
    assert line.highest(7.0, 9.0) == -np.inf
    assert line.columns(1, 3).tolist() == [4.0, 2.0, 3.0]
