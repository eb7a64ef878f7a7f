"""What more or fewer settings would leave."""

from itertools import pairwise

import pytest
from tests.show.plans import planned

from ovolo.show.drawing.settings_chart import settings_chart


@pytest.mark.parametrize("name", ["bridge-pin", "winch-pin-inch", "bush"])
def test_more_settings_leave_less_and_the_plan_is_marked(name: str) -> None:
    plan = planned(name)
    view = settings_chart(plan)
    points = view.curves[0].points
    assert len(points) > 8
    assert all(a[1] > b[1] for a, b in pairwise(points))
    assert view.mark is not None
    assert view.mark.at[0] == plan.stations
    assert view.mark.at in points
    assert f"{plan.stations} settings leave" in view.mark.says
