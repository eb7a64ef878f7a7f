"""What should be found at a stop, as the slides read it."""

import pytest
from tests.documents.plans import plan
from tests.show.plans import planned

from ovolo.documents.plan_document import plan_as_data
from ovolo.setup.measuring import should_be, with_sizes


def test_the_cylinder_that_roughing_has_left_as_the_cross_slide_reads_it() -> None:
    """Move 3 of the plan by hand goes along at r 12.2 with a nose of R 3: Ø 18.40."""
    (cross,) = should_be(plan(), 4)
    assert cross.slide == "cross"
    assert cross.figure == pytest.approx(18.4)
    assert cross.shown == "Ø 18.40"


def test_a_slide_that_reads_radii_growing_inward_reads_its_own_figure() -> None:
    made = plan({"slide.cross": {"reads": "radius", "grows": "in", "count": 0.01}})
    assert [reading.figure for reading in should_be(made, 4)] == [pytest.approx(-9.2)]


def test_the_document_carries_it() -> None:
    made = planned("bridge-pin")
    (stop,) = [before for before in plan_as_data(made)["before"] if before["kind"] == "measure"]
    assert stop["should"] == {reading.slide: reading.figure for reading in should_be(made, stop["move"])}
    assert [b.kind for b in with_sizes(made)] == [b.kind for b in made.before]
