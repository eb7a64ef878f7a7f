"""The axis: told, drawn, found, or asked for where two readings are possible."""

import itertools
import math

import pytest

from ovolo.errors import JobFaults
from ovolo.geometry.segments import Arc, Line, Point, Segment
from ovolo.part.files.axis import Axis, find_axis, to_frame
from ovolo.part.files.drawing import Asked, Piece


def _chain(*points: tuple[float, float]) -> list[Segment]:
    return [Line(Point(*a), Point(*b)) for a, b in itertools.pairwise(points)]


def _find(segments: list[Segment], asked: Asked = Asked(), centre: list[Piece] | None = None) -> Axis:  # noqa: B008
    return find_axis(segments, centre or [], asked, 1.0, False)


def _height(axis: Axis, p: Point) -> float:
    return abs((p.x - axis.origin.x) * axis.along.y - (p.y - axis.origin.y) * axis.along.x)


PIN = _chain((0, 0), (0, 9), (-24, 9))
RING = _chain((0, 6), (0, 10), (-30, 10), (-30, 6), (0, 6))
WHOLE = _chain((30, 41), (40, 47), (40, 53), (30, 59), (10, 59), (10, 41), (30, 41))


@pytest.mark.parametrize(
    ("text", "height_of_origin"),
    [("x", 0), ("Y", 0), ("y=12.5", 12.5), ("x = 40", 40), ("0,12 10,12", 12), ("0,0 10,10", 0)],
)
def test_an_axis_as_told(text: str, height_of_origin: float) -> None:
    assert _height(_find(PIN, Asked(axis=text)), Point(0, 0)) == pytest.approx(height_of_origin)


@pytest.mark.parametrize("text", ["", "z", "y=", "y=nan", "1,1 1,1", "y=1e999", "x=--3", "0,0"])
def test_what_is_no_axis_is_refused(text: str) -> None:
    with pytest.raises(JobFaults, match="it is not an axis"):
        _find(PIN, Asked(axis=text))


def test_a_centre_line_counts_before_the_shape() -> None:
    line = Line(Point(-50, -5), Point(10, -5))
    axis = _find(PIN, centre=[Piece(line, "centre", True)])
    assert _height(axis, Point(0, 0)) == 5


@pytest.mark.parametrize("angle", [0, 17, 90, 211])
def test_a_whole_section_mirrors_itself_about_its_axis(angle: float) -> None:
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))

    def at(p: Point) -> Point:
        return Point(c * p.x - s * p.y, s * p.x + c * p.y)

    turned: list[Segment] = [Line(at(l.start), at(l.end)) for l in WHOLE]  # noqa: E741
    axis = _find(turned)
    assert _height(axis, at(Point(10, 50))) < 1e-6
    assert _height(axis, at(Point(40, 50))) < 1e-6


def test_a_closed_half_section_stands_on_its_axis() -> None:
    assert _find(_chain((0, 0), (0, 9), (-20, 9), (-24, 12), (-24, 0), (0, 0))).along == Point(1, 0)
    moved = _chain((50, 20), (50, 29), (30, 29), (26, 32), (26, 20), (50, 20))
    assert _height(_find(moved), Point(0, 20)) == 0


def test_a_face_on_zero_is_not_the_axis() -> None:
    assert _find(_chain((0, 0), (0, 5), (-1, 6), (-60, 7))).along == Point(1, 0)
    assert _find(_chain((0, 0), (5, 0), (6, -1), (7, -60))).along == Point(0, 1)


@pytest.mark.parametrize(
    "segments",
    [
        RING,
        _chain((0, 0), (0, 9), (-24, 9), (-24, 0), (0, 0)),
        _chain((50, 20), (50, 29), (30, 29), (30, 20), (50, 20)),
        [Arc.from_radius(Point(0, 40), Point(-40, 40), 200, ccw=True)],
        _chain((0, 0), (-24, 0), (-24, 9), (-20, 9)),
    ],
    ids=["ring", "rectangle on x", "rectangle anywhere", "crown", "L"],
)
def test_where_two_readings_are_possible_it_asks(segments: list[Segment]) -> None:
    with pytest.raises(JobFaults, match="the axis is not certain") as refused:
        _find(segments)
    assert refused.value.faults[0].where == "axis"


def test_the_frame_keeps_arcs_and_lengths() -> None:
    axis = Axis(Point(3, 4), Point(0.6, 0.8), "as given")
    arc = Arc(Point(9, 0), Point(0, 9), Point(0, 0), True)
    moved = to_frame(arc, axis)
    assert isinstance(moved, Arc)
    assert moved.length == pytest.approx(arc.length)
    assert to_frame(Line(Point(3, 4), Point(3.6, 4.8)), axis).end == pytest.approx((1, 0))
