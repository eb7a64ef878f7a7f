"""One move from near."""

from xml.etree import ElementTree

import pytest
from tests.show.plans import NAMES, planned

from ovolo.show.drawing.close_up import close_up_as_svg, close_up_view
from ovolo.show.paper.cuts import Cuts, polygons


@pytest.mark.parametrize("name", NAMES)
def test_every_move_is_drawn_and_a_cut_shows_its_metal(name: str) -> None:
    cuts = Cuts(planned(name))
    for move in cuts.plan.moves[:: max(1, len(cuts.plan.moves) // 12)]:
        svg = close_up_as_svg(close_up_view(cuts, move.n))
        root = ElementTree.fromstring(svg)
        shown = any(e.get("class") == "to-go" and e.get("d") for e in root.iter())
        assert shown == bool(polygons(cuts.chips[move.n - 1]))


def test_the_chip_lies_in_the_window() -> None:
    cuts = Cuts(planned("bridge-pin"))
    for move in cuts.plan.moves:
        if move.cuts:
            view = close_up_view(cuts, move.n)
            z0, r0, z1, r1 = view.chip.bounds
            assert view.seen[0] <= z0 <= z1 <= view.seen[2]
            assert view.seen[1] <= r0 <= r1 <= view.seen[3]


def test_the_title_says_the_move() -> None:
    plan = planned("bridge-pin")
    move = next(move for move in plan.moves if move.slide == "saddle" and move.cuts)
    svg = close_up_as_svg(close_up_view(Cuts(plan), move.n))
    assert f"<title>Move {move.n}: saddle toward the chuck to {move.shown}</title>" in svg
