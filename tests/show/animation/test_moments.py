"""The moments that a moving picture shows."""

from dataclasses import replace
from itertools import pairwise

from tests.show.plans import planned

from ovolo.plan.model import Move
from ovolo.show.animation.moments import BETWEEN, FIRST, LAST, MOST, SLOWEST, moments


def _long(many: int) -> list[Move]:
    """The bridge pin's moves over and over: every turn has stages of its own."""
    moves = planned("bridge-pin").moves
    return [replace(moves[k % len(moves)], n=k + 1) for k in range(many)]


def _stage_ends(moves: list[Move]) -> set[int]:
    return {move.n for move, after in pairwise(moves) if move.stage != after.stage} | {moves[-1].n}


def test_a_short_plan_has_the_end_of_every_move() -> None:
    plan = planned("bridge-pin")
    shown = moments(plan.moves, 4.0)
    assert [moment.done for moment in shown if moment.share == 0] == list(range(len(plan.moves) + 1))
    assert len(shown) <= MOST + 1


def test_a_slide_that_goes_far_is_seen_to_go() -> None:
    plan = planned("bridge-pin")
    far = max(plan.moves, key=lambda move: move.travel)
    near = min(plan.moves, key=lambda move: move.travel)
    shown = moments(plan.moves, 4.0)
    images = {move.n: sum(moment.under_way == move.n for moment in shown) for move in (far, near)}
    assert 1 == images[near.n] < images[far.n] <= SLOWEST


def test_between_the_ends_it_is_quick_and_at_the_end_it_waits() -> None:
    shown = moments(planned("bridge-pin").moves, 4.0)
    assert shown[0].lasts == FIRST
    assert shown[-1].lasts == LAST
    assert {moment.lasts for moment in shown if moment.share > 0} == {BETWEEN}
    assert all(moment.lasts % 10 == 0 for moment in shown), "a GIF counts in hundredths of a second"


def test_a_long_plan_stays_watchable() -> None:
    moves = _long(1000)
    shown = moments(moves, 4.0)
    ends = _stage_ends(moves)
    assert len(shown) <= MOST + 1 + len(ends)
    assert ends <= {moment.done for moment in shown}
    assert sum(moment.lasts for moment in shown) < 90_000
    others = [moment for moment in shown[1:] if moment.done not in ends]
    assert all(moves[moment.done - 1].cuts for moment in others)


def test_a_few_more_moves_than_images_leave_out_only_those_that_cut_nothing() -> None:
    moves = _long(MOST + 1)
    cuts = {move.n for move in moves if move.cuts}
    assert cuts <= {moment.done for moment in moments(moves, 4.0)}


def test_nothing_to_do_is_one_image() -> None:
    assert [(moment.done, moment.lasts) for moment in moments([], 4.0)] == [(0, LAST)]
