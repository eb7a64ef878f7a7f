"""Coarse work: fewer settings, less time in all, and a refusal where no file belongs."""

from itertools import pairwise

import pytest
from tests.show.plans import planned

from ovolo.errors import CannotPlan
from ovolo.predict.forecast.outlook import forecast
from ovolo.predict.forecast.tradeoff import COARSEST
from ovolo.predict.methods.coarse import NAME, coarse
from ovolo.predict.methods.compare import compare


def test_it_takes_fewer_settings_and_less_time_in_all_filing_included() -> None:
    made = planned("bridge-pin")
    found = coarse(made)
    assert found.plan.stations < made.stations
    assert made.job.part.ridge < found.plan.prediction.ridge_max <= COARSEST + 2e-3
    assert forecast(found.plan).times.minutes < forecast(made).times.minutes


def test_the_gauge_is_tried_where_the_steps_are_highest() -> None:
    found = coarse(planned("bridge-pin"))
    heights = dict(found.plan.prediction.ridges)
    tried = [heights[place] for place in found.tries]
    assert len(tried) == 3
    assert all(one >= other for one, other in pairwise(tried))
    assert tried[-1] >= sorted(heights.values())[-3]


def test_it_is_the_quickest_for_one_part() -> None:
    assert compare(planned("bridge-pin")).for_one.name == NAME


@pytest.mark.parametrize(("name", "says"), [("bush", "turning bore"), ("pawl-knob", "overhang")])
def test_no_file_where_none_belongs(name: str, says: str) -> None:
    with pytest.raises(CannotPlan, match=says):
        coarse(planned(name))
    way = next(method for method in compare(planned(name)).methods if method.name == NAME)
    assert not way.can
