"""The picture for teaching."""

import math
from dataclasses import replace
from itertools import combinations

import pytest
from tests.documents.jobs import pin
from tests.show.drawing.test_half_section import _texts
from tests.show.plans import NAMES, planned

from ovolo.documents.reading import job_from_data
from ovolo.errors import CannotPlan
from ovolo.plan.planner import make_plan
from ovolo.show.drawing.explain import explain_as_svg, explain_view


@pytest.mark.parametrize("name", NAMES)
def test_it_explains_with_the_plan_s_own_figures(name: str) -> None:
    plan = planned(name)
    view = explain_view(plan)
    assert 0 < view.ridge <= plan.prediction.ridge_max * 1.1 + 1e-3
    svg = explain_as_svg(view)
    plain = svg.replace("−", "-").replace("\N{NO-BREAK SPACE}", " ")
    for move in view.steps:
        assert move.shown in plain
    texts = _texts(svg)
    assert all(box.bounds[3] < 150 and box.bounds[2] < 297 for _, box in texts)
    assert not [(one, other) for (one, a), (other, b) in combinations(texts, 2) if a.intersects(b)]


def test_an_ignored_nose_leaves_what_geometry_says() -> None:
    """A nose of r whose reference point is brought onto a dome at the angle a from +z stands off by
    hypot(R cos a + r, R sin a + r) - R - r: derived; near 45 degrees about r (sqrt 2 - 1)."""
    view = explain_view(planned("bridge-pin"))
    z, r = view.one.foot
    assert view.stray == pytest.approx(math.hypot(z + 9 + 3, r + 3) - 9 - 3, abs=2e-3)
    assert view.stray == pytest.approx(3 * (math.sqrt(2) - 1), rel=0.05)


def test_neighbours_are_not_looked_for_across_the_rim_of_a_dish() -> None:
    """Its hollow ends at r 8, where a corner leads to the flat rim."""
    view = explain_view(planned("dish"))
    for setting in (view.one, view.other):
        z, r = setting.foot
        assert r < 7.99
        assert math.hypot(z + 1.5 - 22.083, r) == pytest.approx(22.083, abs=2e-3)


def test_where_every_setting_lies_on_a_piece_of_its_own_it_is_explained_all_the_same() -> None:
    """Straight pieces, a corner between any two: there is no smooth stretch with two settings on it."""
    dome = [(0, 0), (-0.3, 3), (-1.2, 5.7), (-2.6, 7.6), (-4.5, 8.6), (-7, 9), (-20, 9)]
    outline = [{"z": z, "d": 2 * r} for z, r in dome]
    view = explain_view(
        make_plan(job_from_data(pin({"part.outline": outline, "part.curve": [0, -7], "finish.ridge": 0.4})))
    )
    assert view.ridge > 0


def test_one_setting_explains_nothing() -> None:
    plan = planned("bridge-pin")
    with pytest.raises(CannotPlan, match="two settings side by side"):
        explain_view(replace(plan, moves=tuple(replace(move, station=None) for move in plan.moves)))


def test_the_slide_that_finishes_along_the_axis_is_the_one_named() -> None:
    assert "the top slide reads" in explain_as_svg(explain_view(planned("hasp-pin")))
    assert "the saddle reads" in explain_as_svg(explain_view(planned("bridge-pin")))
