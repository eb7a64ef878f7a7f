"""The radius that readings have by themselves."""

from tests.check.parts import places, shape
from tests.check.simulated import Wrong, as_csv, make, measure

from ovolo.check.checking import Checked, check
from ovolo.documents.check.readings import readings_from_text


def _checked(name: str, many: int = 14) -> Checked:
    made = shape(name)
    read = measure(make(made.job, made.moves, Wrong(), 4), places(name, many), 54)
    return check(made.plan, readings_from_text(as_csv(read, u=0.01, u_z=0.02), made.plan.job))


def test_a_ball_has_its_radius_by_its_readings_alone() -> None:
    found = _checked("dome").radius
    assert found is not None
    assert found.wanted == 9
    assert abs(found.radius - 9.02) < 3 * found.u
    assert found.u < 0.3


def test_a_flat_crown_is_hardly_known() -> None:
    found = _checked("crown").radius
    assert found is not None
    assert found.u > 0.2


def test_few_readings_say_nothing() -> None:
    assert _checked("dome", 3).radius is None
