"""The lines of a half-section: what is seen in each half, what a lip hides, the piece as it was."""

from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Line, Point
from ovolo.shop.shop import Stock
from ovolo.show.paper.section import Section
from ovolo.show.paper.shapes import Place

HALF = Place(0.0, 0.0, 1.0)
OTHER = HALF.other_half
PLAIN = Outline((Line(Point(0.0, 5.0), Point(-9.0, 5.0)),))
LIP = Outline(
    (
        Line(Point(0, 10), Point(-6, 10)),
        Line(Point(-6, 10), Point(-5, 6)),
        Line(Point(-5, 6), Point(-20, 6)),
    )
)
SHAPED = Outline((Line(Point(1.0, 4.0), Point(-5.0, 6.0)), Line(Point(-5.0, 6.0), Point(-10.0, 6.0))))


def test_the_bar_goes_on_behind_the_part_in_both_halves() -> None:
    section = Section(PLAIN, Stock(6.0), False, -20.0)
    assert section.edges(HALF) == ["M0 -5L-9 -5", "M-9 -5L-9 -6L-20 -6", "M0 0L0 -5"]
    assert section.edges(OTHER) == ["M0 5L-9 5", "M-9 5L-9 6L-20 6", "M0 0L0 5"]
    assert section.unseen(OTHER) == []
    assert section.bar.bounds == (-20.0, 0.0, -9.0, 6.0)


def test_what_a_lip_hides_is_drawn_apart() -> None:
    section = Section(LIP, Stock(11.0), False, -30.0)
    assert section.unseen(HALF) == []
    assert section.unseen(OTHER) == ["M-6 10L-5 6", "M-5 6L-6 6"]
    assert "M-6 6L-20 6" in section.edges(OTHER)
    assert not {"M-6 10L-5 6", "M-5 6L-6 6"} & set(section.edges(OTHER))


def test_the_rim_of_a_lip_is_seen_beyond_the_cut_and_across_the_other_half() -> None:
    section = Section(LIP, Stock(11.0), False, -30.0)
    assert "M-6 -6L-6 -10" in section.edges(HALF)
    assert "M-6 0L-6 10" in section.edges(OTHER)


def test_a_bore_is_cut_open_in_both_halves() -> None:
    section = Section(PLAIN, Stock(20.0, hole=8.0), True, -30.0)
    for half, side in ((HALF, -1), (OTHER, 1)):
        edges = section.edges(half)
        assert f"M0 {side * 5}L0 {side * 20}L-30 {side * 20}" in edges
        assert f"M-9 {side * 5}L-9 {side * 4}L-30 {side * 4}" in edges
        assert section.unseen(half) == []
    assert section.bar.bounds == (-30.0, 4.0, -9.0, 20.0)


def test_a_piece_already_shaped_is_drawn_as_it_is() -> None:
    outside = Section(PLAIN, Stock(6.0, outline=SHAPED), False, -40.0)
    assert outside.blank(HALF) == "M-10 -6L-5 -6L1 -4L1 0"
    longer = Section(Outline((Line(Point(0.0, 5.0), Point(-20.0, 5.0)),)), Stock(6.0, outline=SHAPED), False, -40.0)
    assert longer.blank(OTHER) == "M-20 6L-10 6L-5 6L1 4L1 0"
    plain = Section(PLAIN, Stock(6.0, proud=0.5), False, -40.0)
    assert plain.blank(HALF) == "M-9 -6L0.5 -6L0.5 0"
