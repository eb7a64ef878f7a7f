"""The curve as lines and arcs."""

import math

import pytest
from tests.documents.jobs import pin

from ovolo.documents.reading import job_from_data
from ovolo.plan.view.frame import Frame
from ovolo.predict.methods.curve import curve_length, curve_pieces


def _frame(changes: dict[str, object] | None = None) -> Frame:
    return Frame(job_from_data(pin(changes)))


def test_a_dome_is_one_arc() -> None:
    (piece,) = curve_pieces(_frame())
    assert (piece.radius, piece.convex, piece.turns) == (9, True, 1)
    assert piece.sweep == pytest.approx(math.pi / 2, abs=1e-6)
    assert piece.length == pytest.approx(9 * math.pi / 2, abs=1e-5)
    assert math.dist(piece.centre, (-9, 0)) < 1e-9
    assert math.dist(piece.middle, (-9 + 9 * math.cos(math.pi / 4), 9 * math.sin(math.pi / 4))) < 1e-5
    assert math.dist(piece.starts, (0, 0)) < 1e-6
    assert math.dist(piece.ends, (-9, 9)) < 1e-4


def test_a_curve_that_ends_within_an_arc_cuts_it() -> None:
    (piece,) = curve_pieces(_frame({"part.curve": [0, -4.5]}))
    assert piece.sweep == pytest.approx(math.pi / 3, abs=1e-4)
    assert piece.ends.x == pytest.approx(-4.5, abs=1e-4)


def test_faces_and_cylinders_are_square_and_tapers_are_not() -> None:
    outline = [{"z": 0, "d": 0}, {"z": 0, "d": 10}, {"z": -8, "d": 14}, {"z": -12, "d": 14}, {"z": -24, "d": 18}]
    frame = _frame({"part.outline": outline, "part.curve": [0, -20]})
    pieces = curve_pieces(frame)
    assert [piece.square for piece in pieces] == [True, False, True, False]
    assert all(piece.radius == 0 for piece in pieces)
    assert curve_length(pieces) == pytest.approx(5 + math.hypot(8, 2) + 4 + 8 * math.hypot(12, 2) / 12, abs=1e-3)
    assert curve_length(pieces, square=False) == pytest.approx(curve_length(pieces) - 9, abs=1e-9)


def test_a_hollow_is_not_convex_and_turns_the_other_way() -> None:
    outline = [{"z": 0, "d": 12}, {"z": -10, "d": 18, "concave": 12}, {"z": -24, "d": 18}]
    (piece,) = curve_pieces(_frame({"part.outline": outline, "part.curve": [0, -10]}))
    assert (piece.convex, piece.turns, piece.radius) == (False, -1, 12)
    start = (piece.centre.x + 12 * math.cos(piece.begins), piece.centre.y + 12 * math.sin(piece.begins))
    assert math.dist(start, (0, 6)) < 1e-6
