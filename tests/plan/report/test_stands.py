"""Where the slides are ahead of a move: both figures, on the grid, and a way there that is free, judged by a sweep."""

from collections.abc import Iterator

import pytest
import shapely
from shapely import affinity
from tests.documents.jobs import Data, pin
from tests.show.plans import planned

from ovolo.documents.reading import job_from_data
from ovolo.plan.model import Before, Move, Plan
from ovolo.plan.planner import make_plan
from ovolo.plan.sweep.sweep import tool_shape

DIAL: Data = {
    "slide.cross": {"reads": "radius", "count": 0.025, "per_turn": 2.0, "divisions": 40},
    "slide.saddle": {"count": 0.05, "per_turn": 2.0, "divisions": 40},
}
#: Beyond every piece here, mm.
FAR = 60.0


def _stands(made: Plan) -> Iterator[tuple[Before, Move]]:
    return ((b, made.moves[b.move - 1]) for b in made.before if b.kind == "stand")


def _blank(made: Plan) -> shapely.Geometry:
    """The metal before the first cut and the bar behind it, in (z, r)."""
    stock, back = made.job.shop.stock, made.job.part.outline.bounds()[0] - 50.0
    wall = [(stock.proud, 0.0), (stock.proud, stock.radius), (back, stock.radius), (back, 0.0)]
    if made.job.part.surface == "bore":
        wall = [(z, max(r, stock.hole / 2)) for z, r in wall]
    return shapely.Polygon(wall)


@pytest.mark.parametrize("name", ["bridge-pin", "bronze-bush", "pivot-pin", "hinge-pin-dials"])
def test_every_way_to_where_the_slides_are_is_free(name: str) -> None:
    made = planned(name)
    seen = list(_stands(made))
    assert seen
    for before, move in seen:
        assert before.stand is not None
        tool = next(t for t in made.tools if t.name == move.tool)
        shape = shapely.Polygon(tool_shape(tool))
        shape = affinity.scale(shape, 1, -1, origin=(0, 0)) if made.job.part.surface == "bore" else shape
        z, r = move.start
        outside = (z, r + FAR) if before.stand.first == "saddle" else (z + FAR, r)
        swept = shapely.union_all([affinity.translate(shape, *p) for p in (outside, (z, r))]).convex_hull
        metal = _blank(made)
        if any(b.kind == "measure" and b.move == before.move for b in made.before):
            bar = shapely.clip_by_rect(metal, -1e3, 0.0, made.job.part.outline.bounds()[0], 1e3)
            metal = shapely.union(made.swept.after(before.move - 1), bar)
        assert shapely.distance(swept, metal) >= 1.0 - 2e-3, "a millimetre clear all the way"


@pytest.mark.parametrize("name", ["bridge-pin", "bronze-bush", "pivot-pin", "hinge-pin-dials"])
def test_the_figures_are_those_of_the_place_where_the_move_begins(name: str) -> None:
    made = planned(name)
    shop = made.job.shop
    for before, move in _stands(made):
        assert before.stand is not None
        tool = next(t for t in made.tools if t.name == move.tool)
        figures = {reading.slide: reading.figure for reading in before.stand.readings}
        side = -1 if made.job.part.surface == "bore" else 1
        nose_low = move.start.y + side * tool.reference[1]
        assert shop.cross.place(figures["cross"]) == pytest.approx(nose_low, abs=1e-6)
        assert shop.saddle.place(figures["saddle"]) == pytest.approx(move.start.x + tool.reference[0], abs=1e-6)


def test_one_ahead_of_the_first_move_of_each_tool_and_of_what_follows_a_measuring() -> None:
    made = planned("pivot-pin")
    anew = {m.n for m in made.moves if m.n == 1 or made.moves[m.n - 2].tool != m.tool}
    anew |= {b.move for b in made.before if b.kind == "measure"}
    assert {b.move for b, _ in _stands(made)} == anew
    for n in anew:
        assert [b.kind for b in made.before if b.move == n][-1] == "stand", "it comes last"


def test_a_dial_says_turn_and_division() -> None:
    """Of 2 mm a turn in 40 divisions: the slide at 12.0 in a radius is in turn 6, at division 0."""
    made = make_plan(job_from_data(pin(DIAL)))
    stand = next(before.stand for before, _ in _stands(made))
    assert stand is not None
    cross = stand.readings[0]
    turns, rest = divmod(cross.figure, 2.0)
    assert cross.shown == f"{cross.figure:.3f}: turn {turns:.0f}, stop at {rest / 0.05:g}"


def test_in_a_bore_the_cross_slide_is_set_first_in_front_of_the_hole() -> None:
    made = planned("bronze-bush")
    before, _ = next(_stands(made))
    assert before.stand is not None
    assert before.stand.first == "cross"
    assert "in front of the hole, cross slide to" in before.text


def test_no_stop_where_the_tool_is_not_clear() -> None:
    """A stop needs a place to come back to: where a finishing move begins in a bay there is none."""
    made = planned("pawl-knob")
    for before in made.before:
        if before.kind == "measure":
            assert any(b.kind == "stand" and b.move == before.move for b in made.before)
