"""The ridges magnified."""

import pytest
from tests.show.plans import NAMES, planned

from ovolo.show.drawing.detail import detail, detail_scale, draw_detail, draw_where, touches
from ovolo.show.paper.cuts import Cuts
from ovolo.show.paper.layout import Layout
from ovolo.show.paper.shapes import Place


@pytest.mark.parametrize("name", NAMES)
def test_the_detail_shows_the_highest_ridge_and_says_its_scale(name: str) -> None:
    view = detail(Cuts(planned(name)))
    scale = detail_scale(view, 24.0)
    assert 48 / scale >= view.across * 0.999
    drawn = "".join(draw_detail(view, (50, 50), 24.0, "k"))
    assert f"A ({scale:.4g} : 1)" in drawn
    assert "highest ridge" in drawn
    assert 'class="to-go"' in drawn


def test_the_nose_touches_the_outline_once_a_setting() -> None:
    cuts = Cuts(planned("bridge-pin"))
    places = touches(cuts)
    assert len(places) == cuts.plan.stations
    assert all(place.y**2 + (place.x + 9) ** 2 == pytest.approx(81, abs=0.02) for place in places if place.x > -9)


def test_the_letter_keeps_clear_or_is_left_out() -> None:
    view = detail(Cuts(planned("bridge-pin")))
    full = Layout((0, 0, 1, 1))
    assert not any(">A<" in piece for piece in draw_where(view, Place(0, 0, 5), 24.0, full))
    free = Layout((-500, -500, 500, 500))
    assert any(">A<" in piece for piece in draw_where(view, Place(0, 0, 5), 24.0, free))
