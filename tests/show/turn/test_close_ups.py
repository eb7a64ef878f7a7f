"""Close-ups of a run: whole units, light, and the chip where the move takes it."""

import re

import pytest
import shapely
from tests.show.plans import planned

from ovolo.geometry.segments import Point
from ovolo.show.paper.cuts import Cuts
from ovolo.show.turn.close_ups import HIGH, WIDE, close_up_pieces, path_of, picture_of


@pytest.fixture(scope="module")
def cuts() -> Cuts:
    return Cuts(planned("bridge-pin"))


def test_a_move_shows_the_tool_and_its_way_and_a_cut_what_goes(cuts: Cuts) -> None:
    for move in cuts.plan.moves:
        drawn = close_up_pieces(cuts, move.n)
        classes = re.findall(r'class="(\w)"', drawn)
        assert {"t", "w"} <= set(classes), move
        assert ("g" in classes) <= move.cuts
        assert len(drawn) < 2500
        for d in re.findall(r'd="([^"]*)"', drawn):
            assert re.fullmatch(r"[MlhvzL 0-9-]*", d)


def test_every_finishing_cut_can_be_seen(cuts: Cuts) -> None:
    seen = [n.n for n in cuts.plan.moves if n.cuts and n.area > 0.05]
    assert all('class="g"' in close_up_pieces(cuts, n) for n in seen)


def test_a_place_of_the_piece_without_a_tool(cuts: Cuts) -> None:
    drawn = picture_of(cuts, (-30.0, -2.0, 5.0, 12.0), cuts.after(0))
    assert 'class="t"' not in drawn
    tool = cuts.plan.tools[0]
    assert 'class="t"' in picture_of(cuts, (-30.0, -2.0, 5.0, 12.0), cuts.after(0), tool, Point(0.0, 5.0))


def test_specks_are_left_out() -> None:
    assert path_of(shapely.box(0, 0, 5, 5)) == ""
    assert path_of(shapely.box(0, 0, WIDE, HIGH)) == f"M{WIDE} 0v{HIGH}h-{WIDE}v-{HIGH}z"
