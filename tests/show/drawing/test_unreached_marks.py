"""Marks and words of a refusal: nothing lies on anything else, words give way before figures do."""

from functools import cache
from itertools import combinations

import pytest
import shapely
from tests.plan.report.test_unreached import REFUSED

from ovolo.documents.reading import job_from_data
from ovolo.plan.report.unreached import Unreached, unreached
from ovolo.show.drawing.unreached_marks import draw_labels, draw_numbers, draw_stretches, figure, long_text, short_text
from ovolo.show.paper.layout import Layout
from ovolo.show.paper.shapes import Place


@cache
def _found(name: str) -> tuple[Unreached, ...]:
    return unreached(job_from_data(REFUSED[name]))


def _at(s: Unreached, scale: float, wide: float, high: float) -> tuple[Place, Layout]:
    """A piece of paper with the stretch in its middle."""
    return Place(wide / 2 - scale * s.place.x, high / 2 + scale * s.place.y, scale), Layout((0.0, 0.0, wide, high))


@pytest.mark.parametrize("name", REFUSED)
def test_no_words_lie_on_others(name: str) -> None:
    s = _found(name)[0]
    place, layout = _at(s, 20 / max(s.length, 1.0), 90.0, 70.0)
    drawn = "".join(draw_labels(s, "mm", place, layout, bore=name == "cove"))
    assert f"z −{abs(s.end.x):.4g}, Ø" in drawn
    assert long_text(s, "mm") in drawn
    assert short_text(s, "mm") in drawn
    room = shapely.box(*layout.area)
    assert all(room.contains(words) for words in layout.words)
    assert not any(a.intersects(b) for a, b in combinations(layout.words, 2))


def test_where_there_is_little_room_words_are_left_out() -> None:
    s = _found("groove")[0]
    place, layout = _at(s, 2.0, 30.0, 30.0)
    drawn = "".join(draw_labels(s, "mm", place, layout, bore=False))
    assert drawn.count("<text") < 4
    assert "out of reach: " not in drawn


def test_a_small_stretch_gets_a_ring_and_no_bars() -> None:
    s = _found("shoulder")[0]
    place, layout = _at(s, 1.0, 60.0, 60.0)
    assert "<circle" in "".join(draw_numbers([s], place, layout))
    assert len(draw_stretches([s], place)) == 1
    near, layout = _at(s, 50.0, 60.0, 60.0)
    assert "<circle" not in "".join(draw_numbers([s], near, layout))
    assert len(draw_stretches([s], near)) == 3


def test_figures_are_in_the_unit_of_the_job() -> None:
    s = _found("groove")[0]
    assert short_text(s, "in") == f"{figure(s.short, 'in', 3)} in short"
    assert float(figure(s.short, "in", 3)) == pytest.approx(s.short / 25.4, rel=5e-3)
