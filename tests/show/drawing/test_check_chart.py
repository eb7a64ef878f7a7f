"""The chart of deviation along the curve."""

from xml.etree import ElementTree

from tests.check.parts import places, shape
from tests.check.simulated import Wrong, as_csv, make, measure

from ovolo.check.checking import check
from ovolo.check.measured import Measured
from ovolo.documents.check.readings import readings_from_text
from ovolo.show.drawing.check_chart import deviation_as_svg, deviation_view


def test_every_reading_and_both_limits_are_drawn() -> None:
    made = shape("dome")
    read = measure(make(made.job, made.moves, Wrong(cross=0.05), 4), places("dome"), 54)
    view = deviation_view(check(made.plan, readings_from_text(as_csv(read, u=0.01, u_z=0.02), made.plan.job)))
    assert view is not None
    assert max(view.z) <= 0.0
    svg = deviation_as_svg(view)
    root = ElementTree.fromstring(svg)
    assert sum(element.get("class") == "mark" for element in root.iter()) == len(read)
    assert sum(element.get("class") == "limit" for element in root.iter()) == 2


def test_nothing_is_drawn_of_what_was_not_judged() -> None:
    assert deviation_view(check(shape("dome").plan, Measured(()))) is None
