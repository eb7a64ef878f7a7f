"""Where the tools went."""

import numpy as np
from tests.check.parts import shape

from ovolo.check.positions import positions_of


def test_every_move_stands_where_the_plan_says() -> None:
    plan = shape("dome").plan
    at = positions_of(plan)
    assert at.count == len(plan.moves)
    assert [tuple(p) for p in zip(at.x1, at.y1, strict=True)] == [tuple(move.end) for move in plan.moves]


def test_in_a_bore_the_frame_is_turned_over() -> None:
    plan = shape("bore").plan
    assert np.allclose(positions_of(plan).y1, [-move.end.y for move in plan.moves])


def test_a_slide_that_stands_keeps_its_setting() -> None:
    plan = shape("dome").plan
    settings = positions_of(plan).settings
    for n, move in enumerate(plan.moves):
        stands = (
            (settings.saddle_start, settings.saddle_end)
            if move.slide == "cross"
            else (
                settings.cross_start,
                settings.cross_end,
            )
        )
        moves = (
            (settings.cross_start, settings.cross_end)
            if move.slide == "cross"
            else (
                settings.saddle_start,
                settings.saddle_end,
            )
        )
        assert stands[0][n] == stands[1][n]
        assert moves[0][n] != moves[1][n]


def test_fewer_moves_keep_the_numbers_of_their_settings() -> None:
    at = positions_of(shape("dome").plan)
    few = at.only(np.array([3, 7]))
    assert few.count == 2
    assert few.settings.cross_end.tolist() == at.settings.cross_end[[3, 7]].tolist()
