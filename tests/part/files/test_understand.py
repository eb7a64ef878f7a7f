"""From pieces to the outline: layers, halves, ends, gaps, the face toward the chuck."""

import itertools
import math

import pytest

from ovolo.errors import JobFaults
from ovolo.geometry.segments import Arc, Line, Point, Segment
from ovolo.part.files.drawing import Asked, Drawing, Found, Piece
from ovolo.part.files.understand import understand


def _chain(*points: tuple[float, float]) -> list[Segment]:
    return [Line(Point(*a), Point(*b)) for a, b in itertools.pairwise(points)]


def _read(segments: list[Segment], asked: Asked = Asked(axis="x"), layer: str = "0") -> Drawing:  # noqa: B008
    return understand(Found([Piece(s, layer) for s in segments], [], [], 0.0, 1.0), asked, "pin")


def _flat(drawing: Drawing) -> list[float]:
    return [round(v, 6) + 0.0 for p in drawing.outline.nodes for v in p]


PIN = _chain((0, 0), (0, 9), (-24, 9))
RING = _chain((0, 6), (0, 10), (-30, 10), (-30, 6), (0, 6))


def test_both_sides_of_a_ring() -> None:
    assert _flat(_read(RING)) == [0, 10, -30, 10]
    assert _flat(_read(RING, Asked(axis="x", surface="bore"))) == [0, 6, -30, 6]


@pytest.mark.parametrize(
    ("axis", "free_end", "turn"),
    [("x", "right", 0), ("y", "top", 90), ("x", "left", 180), ("y", "bottom", 270)],
)
def test_any_side_may_be_the_free_end(axis: str, free_end: str, turn: float) -> None:
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))

    def at(p: Point) -> Point:
        return Point(c * p.x - s * p.y, s * p.x + c * p.y)

    turned: list[Segment] = [Line(at(piece.start), at(piece.end)) for piece in PIN]
    drawing = _read(turned, Asked(axis=axis, free_end=free_end))  # type: ignore[arg-type]
    assert _flat(drawing) == [0, 0, 0, 9, -24, 9]


def test_a_free_end_across_the_axis_is_refused() -> None:
    with pytest.raises(JobFaults, match="right or left"):
        _read(PIN, Asked(axis="x", free_end="top"))


def test_the_rounded_end_is_the_free_one() -> None:
    dome = Arc(Point(-9, 9), Point(0, 0), Point(-9, 0), False)
    drawing = _read([dome.reversed(), Line(Point(-9, 9), Point(-24, 9)), Line(Point(-24, 9), Point(-24, 0))])
    assert _flat(drawing) == [0, 0, -9, 9, -24, 9]
    mirrored = [Line(Point(24, 0), Point(24, 9)), Line(Point(24, 9), Point(9, 9))]
    left = Arc(Point(9, 9), Point(0, 0), Point(9, 0), True)
    drawing = _read([*mirrored, left])
    assert _flat(drawing) == [0, 0, -9, 9, -24, 9]
    assert any("left" in note for note in drawing.notes)


def test_the_face_toward_the_chuck_is_left_out_with_a_note() -> None:
    drawing = _read(_chain((0, 0), (0, 9), (-24, 9), (-24, 0)))
    assert _flat(drawing) == [0, 0, 0, 9, -24, 9]
    assert any("toward the chuck" in note for note in drawing.notes)


def test_halves_that_differ_are_refused_with_by_how_much() -> None:
    with pytest.raises(JobFaults, match=r"differ by 0\.5\d* mm"):
        _read([*PIN, *_chain((0, 0), (0, -9.5), (-24, -9.5))])


def test_a_gap_is_named_and_can_be_closed() -> None:
    broken = [*_chain((0, 0), (0, 9), (-10, 9)), *_chain((-10.2, 9), (-24, 9))]
    with pytest.raises(JobFaults, match=r"open by 0\.2000 mm") as refused:
        _read(broken)
    assert refused.value.faults[0].where == "gap"
    assert _flat(_read(broken, Asked(axis="x", gap=0.21)))[-2:] == [-24, 9]


def test_layers_are_taken_or_left() -> None:
    pieces = [Piece(s, "Profile") for s in PIN] + [Piece(s, "Notes") for s in _chain((0, 9), (5, 30), (-24, 9))]
    found = Found(pieces, [], [], 0.0, 1.0)
    for asked in (Asked(axis="x", layers=("profile",)), Asked(axis="x", without=("NOTES",))):
        drawing = understand(found, asked, "pin")
        assert _flat(drawing) == [0, 0, 0, 9, -24, 9]
        assert {d.why for d in drawing.dropped} == {"layer Notes"}
    with pytest.raises(JobFaults, match="no such layer") as refused:
        understand(found, Asked(layers=("outlines",)), "pin")
    assert refused.value.faults[0].limit == "notes, profile"


@pytest.mark.parametrize(
    ("segments", "says"),
    [
        ([], "no line or curve"),
        (_chain((0, 0), (math.nan, 9)), "not a number"),
        (_chain((0, 0), (1e9, 9)), "from the origin"),
        (_chain((0, 0), (-24, 0)), "all of it lies on the axis"),
        (_chain((0, 0), (-10, 9), (-12, 0), (-14, 9), (-24, 9)), "touches the axis at z = -12"),
        (_chain((0, 0), (0, 8), (-20, 8), (-20, 14), (-10, 14), (-10, 4), (-30, 4)), "crosses itself"),
    ],
)
def test_what_makes_no_part_is_refused(segments: list[Segment], says: str) -> None:
    with pytest.raises(JobFaults, match=says):
        _read(segments)


def test_the_placement_leads_back_into_the_drawing() -> None:
    moved: list[Segment] = [Line(Point(40 + s.start.y, 70 + s.start.x), Point(40 + s.end.y, 70 + s.end.x)) for s in PIN]
    drawing = _read(moved, Asked(axis="x=40"))
    place = drawing.placement
    assert place is not None
    for p in drawing.outline.nodes:
        x = place.origin.x + p.x * place.along.x + p.y * place.out.x
        y = place.origin.y + p.x * place.along.y + p.y * place.out.y
        # The half that was taken may be the image of the one that was drawn.
        assert min(math.dist((40 + abs(x - 40), y), q) for s in moved for q in (s.start, s.end)) < 1e-9


def test_pieces_of_one_circle_become_one_arc() -> None:
    dome = Arc(Point(0, 0), Point(-9, 9), Point(-9, 0), True)
    half = dome.point(dome.length / 2)
    parts: list[Segment] = [Arc(dome.start, half, dome.centre, True), Arc(half, dome.end, dome.centre, True)]
    assert _read([*parts, Line(Point(-9, 9), Point(-24, 9))]).outline.segments[0] == dome
