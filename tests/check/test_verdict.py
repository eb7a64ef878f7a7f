"""Good, not good, cannot tell."""

from tests.check.parts import places, shape
from tests.check.simulated import Wrong, as_csv, make, measure

from ovolo.check.checking import Checked, check
from ovolo.check.verdict import verdict_of
from ovolo.documents.check.readings import readings_from_text
from ovolo.part.targets import CurveLimits


def _checked(wrong: Wrong, seed: int, name: str = "dome") -> tuple[Checked, float, float]:
    made = shape(name)
    part = make(made.job, made.moves, wrong, seed)
    read = measure(part, places(name), seed + 50)
    found = check(made.plan, readings_from_text(as_csv(read, u=0.01, u_z=0.02), made.plan.job))
    return found, part.above(), part.below()


def test_what_stands_and_what_is_missing_is_what_the_sweep_left() -> None:
    for wrong, seed in ((Wrong(), 1), (Wrong(cross=0.08), 2), (Wrong(cross=-0.08), 3)):
        found, above, below = _checked(wrong, seed)
        assert found.judged is not None
        assert abs(found.judged.above - above) < 3 * found.judged.u
        assert abs(found.judged.below - below) < 3 * found.judged.u


def test_a_good_part_is_good_and_a_bad_one_is_not() -> None:
    assert _checked(Wrong(), 1)[0].verdict == "good"
    assert _checked(Wrong(cross=0.12), 1)[0].verdict == "not good"
    assert _checked(Wrong(cross=-0.12), 1)[0].verdict == "not good"


def test_between_the_two_nobody_can_tell() -> None:
    limits = CurveLimits(0.1, 0.05)
    assert verdict_of(0.095, 0.0, 0.01, limits) == "cannot tell"
    assert verdict_of(0.0, 0.055, 0.01, limits) == "cannot tell"
    assert verdict_of(0.05, 0.08, 0.01, limits) == "not good"
