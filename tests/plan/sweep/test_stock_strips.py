"""Tiles: what is taken out of them together is what is taken out of the whole, one track after the other."""

import numpy as np
import pytest
import shapely

from ovolo.geometry.segments import Point
from ovolo.plan.sweep.stock_strips import Tiles, _turns
from ovolo.plan.sweep.swept_hulls import Tracks

BLANK = shapely.box(-40.0, 0.0, 0.0, 10.0)
KEEP = shapely.box(-50.0, 0.0, -1.0, 5.0)
SQUARE = np.array([[-1.0, 0.0], [1.0, 0.0], [1.0, 60.0], [-1.0, 60.0]])


def _tracks(*moves: tuple[Point, Point]) -> Tracks:
    return Tracks([SQUARE] * len(moves), moves, mirrored=False)


def _many() -> list[tuple[Point, Point]]:
    dice = np.random.default_rng(7)
    ends = dice.uniform((-40, 5), (0, 10), (40, 2))
    return [(Point(x, y), Point(x + (n % 3) * 4.0, y)) for n, (x, y) in enumerate(ends.tolist())]


def test_together_and_one_by_one_take_the_same() -> None:
    strips, tracks = Tiles(BLANK, KEEP, 0.5), _tracks(*_many())
    chips = strips.take(tracks, np.zeros(40, dtype=bool))
    rest, areas = BLANK, []
    for region in tracks.regions:
        areas.append(shapely.area(shapely.intersection(rest, region)))
        rest = shapely.difference(rest, region)
    assert chips.area == pytest.approx(areas, abs=1e-9)
    assert shapely.area(shapely.symmetric_difference(strips.rest(), rest)) < 1e-9
    cut = np.flatnonzero(np.array(areas) > 1e-6)
    assert shapely.area(chips.whole(cut)) == pytest.approx(np.array(areas)[cut])


def test_a_chip_that_runs_over_many_tiles_is_one_region() -> None:
    strips = Tiles(BLANK, KEEP, 0.5)
    chips = strips.take(_tracks((Point(-30.0, 8.0), Point(-10.0, 8.0))), np.zeros(1, dtype=bool))
    (whole,) = chips.whole(np.array([0]))
    assert len(chips.pieces) > 5
    assert whole.geom_type == "Polygon"
    assert whole.bounds == (-31.0, 8.0, -9.0, 10.0)


def test_what_only_looks_finds_what_stands_just_then_and_takes_nothing() -> None:
    strips = Tiles(BLANK, KEEP, 0.5)
    here = (Point(-20.0, 7.0), Point(-20.0, 7.0))
    chips = strips.take(_tracks(here, here, here), np.array([True, False, True]))
    assert chips.area == pytest.approx([6.0, 6.0, 0.0])
    assert shapely.area(strips.rest()) == pytest.approx(400.0 - 6.0)


def test_what_is_kept_is_found_and_how_deep_a_track_goes_into_it() -> None:
    strips = Tiles(BLANK, KEEP, 0.5)
    above, into = (Point(-20.0, 5.5), Point(-10.0, 5.5)), (Point(-20.0, 4.7), Point(-10.0, 4.7))
    kept = strips.kept(_tracks(above, into))
    assert kept.area == pytest.approx([0.0, 12 * 0.3])
    assert strips.depth(kept.pieces) == pytest.approx(0.3)
    assert strips.depth(kept.pieces[kept.of == 0]) == 0.0


def test_turns_take_the_next_entry_of_every_tile() -> None:
    turns = [turn.tolist() for turn in _turns(np.array([0, 0, 0, 2, 5, 5]))]
    assert turns == [[0, 3, 4], [1, 5], [2]]
    assert list(_turns(np.empty(0, dtype=np.int64))) == []


def test_two_cuts_along_one_line_leave_no_film() -> None:
    """A square corner cuts down to x = -20 from either side; in floating point the two lines differ by a hair."""
    strips = Tiles(BLANK, KEEP, 0.5)
    beside = -19.0 + 8e-15
    assert beside - 1.0 > -20.0
    strips.take(_tracks((Point(-21.0, 7.0),) * 2, (Point(beside, 7.0),) * 2), np.zeros(2, dtype=bool))
    ring = shapely.get_coordinates(strips.rest())
    assert ring[np.abs(ring[:, 0] + 20.0) < 0.5, 1].max(initial=0.0) <= 7.0


def test_the_history_knows_the_metal_after_every_track() -> None:
    strips, tracks = Tiles(BLANK, KEEP, 0.5), _tracks(*_many())
    strips.take(tracks, np.zeros(40, dtype=bool))
    history, rest = strips.history(), BLANK
    assert shapely.area(history.after(-1)) == pytest.approx(BLANK.area)
    for n, region in enumerate(tracks.regions):
        rest = shapely.difference(rest, region)
        assert shapely.area(shapely.symmetric_difference(history.after(n), rest)) < 1e-9


def test_what_took_nothing_has_an_empty_chip() -> None:
    strips = Tiles(BLANK, KEEP, 0.5)
    here, away = (Point(-20.0, 7.0), Point(-20.0, 7.0)), (Point(-20.0, 30.0), Point(-20.0, 30.0))
    chips = strips.take(_tracks(here, away), np.zeros(2, dtype=bool))
    assert shapely.area(chips.whole(np.array([0, 1]))).tolist() == pytest.approx([6.0, 0.0])
