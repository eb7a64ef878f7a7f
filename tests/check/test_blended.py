"""A part whose ridges are filed away."""

import numpy as np
from tests.check.parts import places as places_of
from tests.check.parts import shape
from tests.check.simulated import Wrong, as_csv, make, measure

from ovolo.check.blended import without_ridges
from ovolo.check.checking import check
from ovolo.check.positions import positions_of
from ovolo.check.profile import heights, places
from ovolo.check.reach import deviation_of
from ovolo.documents.check.readings import readings_from_text


def test_without_ridges_the_surface_is_the_outline() -> None:
    plan = shape("dome").plan
    at = without_ridges(plan, positions_of(plan))
    x = np.linspace(-8.8, -0.05, 200)
    deviation, _ = deviation_of(at.frame, x, heights(at, places(at, x, 0.2)))
    assert deviation.min() > -1e-4
    assert deviation.max() < 0.006


def test_what_filing_took_is_no_cause() -> None:
    made = shape("dome")
    part = make(made.job, made.moves, Wrong(cross=-0.06), 1)
    text = "# state = blended\n" + as_csv(measure(part, places_of("dome"), 51), u=0.01, u_z=0.02)
    found = check(made.plan, readings_from_text(text, made.plan.job))
    assert found.measured.state == "blended"
    assert found.causes == ()
