"""The cut that mends: run on the part as it is, by the lathe as it is."""

import pytest
from tests.check.parts import places, shape
from tests.check.simulated import Made, Wrong, as_csv, make, measure
from tests.check.trial import corrected
from tests.oracle import set_up

from ovolo.check.checking import Checked, check
from ovolo.check.measured import Circumstances
from ovolo.documents.check.readings import readings_from_text
from ovolo.documents.check.says import correction_says


def _checked(name: str, wrong: Wrong, seed: int, how: Circumstances | None = None) -> tuple[Checked, Made]:
    made = shape(name)
    part = make(made.job, made.moves, wrong, seed)
    read = as_csv(measure(part, places(name), seed + 50), u=0.01, u_z=0.02)
    return check(made.plan, readings_from_text(read, made.plan.job, circumstances=how)), part


@pytest.mark.parametrize(
    ("name", "wrong"),
    [
        ("dome", Wrong(cross=0.09)),
        ("crown", Wrong(cross=0.08)),
        ("bore", Wrong(cross=-0.09)),
        ("crown", Wrong(taper=0.004)),
        ("bore", Wrong(nose={"boring tool": 0.3})),
    ],
)
def test_the_corrected_part_is_inside_its_limits(name: str, wrong: Wrong) -> None:
    found, part = _checked(name, wrong, 4)
    after = corrected(found, part, wrong, 4)
    mended = Made(set_up(shape(name).job), after.rest)
    assert part.above() > found.limits.above
    assert mended.above() <= found.limits.above
    assert mended.below() <= found.limits.below


def test_the_shift_is_what_the_readouts_show_too_little() -> None:
    found, _ = _checked("dome", Wrong(cross=0.09), 4)
    assert found.correction.shift["cross"] == pytest.approx(2 * 0.09, abs=0.02)
    assert found.correction.shift["saddle"] == 0.0
    back, _ = _checked("dome", Wrong(saddle=0.2), 4)
    assert back.correction.shift["saddle"] == pytest.approx(0.2, abs=0.04)


def test_where_metal_is_missing_nothing_is_cut_and_a_smaller_ball_is_named() -> None:
    found, _ = _checked("dome", Wrong(cross=-0.12), 4)
    fix = found.correction
    assert fix.plan is None
    assert fix.smaller is not None
    assert fix.smaller.radius == pytest.approx(9 - 0.12, abs=0.04)
    assert any("smaller ball" in line for line in correction_says(found))


def test_a_good_part_is_left_alone() -> None:
    found, _ = _checked("dome", Wrong(), 4)
    assert found.correction.nothing
    assert correction_says(found) == ["Nothing need be done."]


def test_a_part_that_was_out_of_the_chuck_is_filed() -> None:
    found, _ = _checked("dome", Wrong(cross=0.09), 4, Circumstances(in_chuck=False))
    assert found.correction.plan is None
    assert found.correction.file
    assert any("runs out" in line for line in correction_says(found))
