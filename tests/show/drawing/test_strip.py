"""What is left along the curve."""

from xml.etree import ElementTree

import pytest
from tests.show.plans import NAMES, planned

from ovolo.show.drawing.strip import strip_as_svg, strip_view
from ovolo.show.paper.cuts import Cuts


@pytest.mark.parametrize("name", NAMES)
def test_the_strip_is_as_high_as_the_prediction(name: str) -> None:
    view = strip_view(Cuts(planned(name)))
    assert max(high for _, high in view.profile) == pytest.approx(view.highest, rel=0.05)
    assert all(0 <= place <= view.length for place, _ in view.profile)
    ElementTree.fromstring(strip_as_svg(view))


def test_it_is_low_where_the_nose_touches() -> None:
    view = strip_view(Cuts(planned("bridge-pin")))
    assert len(view.settings) in (15, 16)
    for setting in view.settings[:-1]:
        near = min(view.profile, key=lambda point: abs(point[0] - setting))
        assert near[1] < 0.15 * view.highest


def test_both_scales_are_said() -> None:
    svg = strip_as_svg(strip_view(Cuts(planned("winch-pin-inch"))))
    assert "in from its free end; heights ×" in svg
    assert ", lengths ×" in svg
