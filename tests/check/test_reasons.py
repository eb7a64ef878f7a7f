"""Which causes readings support, and which they leave open."""

import pytest
from tests.check.parts import places, shape
from tests.check.simulated import Wrong, as_csv, make, measure

from ovolo.check.checking import check
from ovolo.documents.check.readings import readings_from_text


def _named(
    name: str, wrong: Wrong, seed: int, *, u: float = 0.01, u_z: float = 0.02
) -> tuple[list[str], list[set[str]]]:
    made = shape(name)
    read = measure(make(made.job, made.moves, wrong, seed), places(name), seed + 50, u=u, u_z=u_z)
    found = check(made.plan, readings_from_text(as_csv(read, u=u, u_z=u_z), made.plan.job))
    return [f.cause.name for f in found.causes], [{f.cause.name for f in each.between} for each in found.undecided]


def test_nothing_is_named_where_nothing_is_wrong() -> None:
    assert [_named("dome", Wrong(), seed) for seed in range(4)] == [([], [])] * 4


def test_what_is_wrong_is_named() -> None:
    assert _named("dome", Wrong(cross=0.06), 1)[0] == ["cross_offset"]
    assert _named("dome", Wrong(taper=0.004), 1)[0] == ["taper"]
    assert _named("ball", Wrong(nose={"round nose 4": 0.25}), 1)[0] == ["nose_radius"]


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_saddle_and_nose_stay_open_where_places_are_hardly_known(seed: int) -> None:
    named, undecided = _named("dome", Wrong(saddle=0.2), seed, u_z=0.1)  # twice what a place is known to
    assert named == []
    assert undecided
    assert {"saddle_offset", "nose_radius"} <= undecided[0]


@pytest.mark.parametrize("seed", [1, 2])
def test_on_a_crown_neither_does_harm_and_neither_is_named(seed: int) -> None:
    assert _named("crown", Wrong(saddle=0.1), seed)[0] == []
