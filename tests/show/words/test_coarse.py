"""Coarse work in words."""

from tests.show.plans import planned

from ovolo.predict.methods.coarse import Coarse, coarse
from ovolo.show.words.coarse import coarse_lines


def test_it_says_how_high_where_to_try_and_when_to_stop() -> None:
    found = coarse(planned("bridge-pin"))
    text = " ".join(coarse_lines(found))
    assert f"{found.plan.stations} settings leave steps of at most 0.1" in text
    assert f"z {found.tries[0].x:.2f} (Ø {2 * found.tries[0].y:.2f})" in text
    assert "blue in the valleys just vanishes" in text
    assert "handle on the file" in text


def test_without_ridges_nothing_is_tried() -> None:
    assert "Try the gauge" not in " ".join(coarse_lines(Coarse(planned("bridge-pin"), ())))
