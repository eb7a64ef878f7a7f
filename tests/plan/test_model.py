"""Moves: how far they go and in which direction, in words."""

import dataclasses

import pytest

from ovolo.geometry.segments import Point
from ovolo.plan.model import Move, SlideName


def _move(slide: SlideName, end: tuple[float, float]) -> Move:
    return Move(1, "rough", "knife", slide, Point(2, 5), Point(*end), 1.0, "1.0", 0.1, True, 0.5, 0.5)


@pytest.mark.parametrize(
    ("slide", "end", "travel", "toward"),
    [
        ("saddle", (-4, 5), 6, "toward the chuck"),
        ("saddle", (3, 5), 1, "away from the chuck"),
        ("cross", (2, 3.5), 1.5, "in"),
        ("cross", (2, 9), 4, "out"),
    ],
)
def test_travel_and_direction(slide: SlideName, end: tuple[float, float], travel: float, toward: str) -> None:
    move = _move(slide, end)
    assert move.travel == travel
    assert move.toward == toward


def test_a_move_of_no_station_says_so() -> None:
    assert _move("cross", (2, 3)).station is None
    assert dataclasses.replace(_move("cross", (2, 3)), station=4).station == 4
