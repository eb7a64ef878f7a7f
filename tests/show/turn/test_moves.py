"""What is said of each move agrees with the plan: figures, ways, where the other slide is."""

import pytest
from tests.show.plans import NAMES, planned

from ovolo.show.turn.moves import slides_of, standing_before, turn_moves

MANY = (*NAMES, "hinge-pin-dials", "windlass-handle", "jig-dowel")


@pytest.mark.parametrize("name", MANY)
def test_figures_and_ways_are_those_of_the_plan(name: str) -> None:
    plan = planned(name)
    for move, said in zip(plan.moves, turn_moves(plan), strict=True):
        assert (said.n, said.slide, said.figure, said.shown) == (move.n, move.slide, move.figure, move.shown)
        assert said.toward == move.toward
        assert bool(said.cut) == move.cuts
        assert said.seconds >= 0
        assert said.other != said.slide
        assert plan.tools[said.tool].name == move.tool


@pytest.mark.parametrize("name", MANY)
def test_the_other_slide_reads_what_it_was_last_brought_to(name: str) -> None:
    plan = planned(name)
    last: dict[str, float] = {}
    tool = ""
    for said, move in zip(turn_moves(plan), plan.moves, strict=True):
        if move.tool != tool:
            tool, last = move.tool, dict(standing_before(plan, move).figures)
        assert last.get(said.other) == said.other_figure
        if said.slide in last:
            assert said.begins == last[said.slide]
        last[said.slide] = said.figure


def test_where_both_slides_are_is_where_the_move_begins() -> None:
    plan = planned("bridge-pin")
    stands = standing_before(plan, plan.moves[0])
    told = next(before.stand for before in plan.before if before.stand is not None)
    assert stands.figures == {reading.slide: reading.figure for reading in told.readings}
    assert stands.first == told.first


def test_slides_say_how_they_read() -> None:
    inches, dials = slides_of(planned("winch-pin-inch")), slides_of(planned("hinge-pin-dials"))
    assert inches["cross"].unit == "in"
    assert inches["cross"].per_mm == pytest.approx(planned("winch-pin-inch").job.shop.cross.factor / 25.4)
    assert dials["saddle"].dial
    assert dials["saddle"].divisions == 200
