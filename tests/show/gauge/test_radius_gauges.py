"""Leaves of radius gauges."""

import pytest
from tests.show.plans import planned

from ovolo.show.gauge.radius_gauges import leaves, nearest_leaf


@pytest.mark.parametrize(
    ("radius", "unit", "leaf"),
    [(9.0, "mm", 9.0), (2.3, "mm", 2.25), (7.7, "mm", 7.5), (0.1, "mm", 1.0), (400, "mm", 25.0), (12.7, "in", 12.7)],
)
def test_the_nearest_of_a_usual_set(radius: float, unit: str, leaf: float) -> None:
    assert nearest_leaf(radius, unit) == pytest.approx(leaf)  # type: ignore[arg-type]


def test_a_dome_takes_the_hollow_side_once() -> None:
    (leaf,) = leaves(planned("bridge-pin").job.part.outline.segments, "outside", "mm")
    assert (leaf.fits, leaf.hollow, leaf.says("mm")) == (True, True, "R 9, the hollow side")


def test_a_bell_mouth_takes_the_hollow_side_too() -> None:
    (leaf,) = leaves(planned("bush").job.part.outline.segments, "bore", "mm")
    assert leaf.hollow


def test_a_radius_without_a_leaf_is_said() -> None:
    found = leaves(planned("handle").job.part.outline.segments, "outside", "mm")
    assert "none for R 60, the round side" in [leaf.says("mm") for leaf in found]
