"""Room on a drawing."""

from ovolo.show.paper.layout import Candidate, Layout, box_of


def _candidate(x: float) -> Candidate:
    return Candidate((str(x),), box_of((x, 0, x + 5, 3)), (((x, 3), (x + 5, 3)),))


def test_the_first_that_touches_nothing_is_taken() -> None:
    layout = Layout((0, -10, 40, 10))
    layout.add_words(box_of((0, 0, 5, 3)))
    layout.add_line([(8, -5), (8, 5)])
    found = layout.first_free(_candidate(x) for x in (3, 6, 12))
    assert found is not None
    assert found.pieces == ("12",)
    assert layout.first_free([_candidate(12)]) is None


def test_nothing_is_placed_off_the_paper() -> None:
    assert Layout((0, -10, 10, 10)).first_free([_candidate(7)]) is None


def test_lines_never_cross_words() -> None:
    layout = Layout((0, 0, 100, 100))
    layout.add_words(box_of((10, 10, 20, 20)))
    crossing = Candidate((), box_of((50, 50, 60, 60)), (((0, 15), (30, 15)),))
    assert layout.first_free([crossing]) is None


def test_turned_words_stand_on_end() -> None:
    assert box_of((8, 9, 12, 11), (10, 10)).bounds == (9, 8, 11, 12)
