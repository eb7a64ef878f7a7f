"""Fits of causes to readings that follow from them."""

import numpy as np
import pytest
from tests.check.parts import places, shape

from ovolo.check.causes import Cause, applied
from ovolo.check.evidence import Bench, price
from ovolo.check.jaws import Jaws
from ovolo.check.measured import Reading
from ovolo.check.positions import positions_of
from ovolo.shop.setting_errors import SettingErrors


def _bench(causes: list[tuple[Cause, float]]) -> Bench:
    at = positions_of(shape("dome").plan)
    moved = applied(at, causes)
    bare = [Reading(z, 0.0, 0.002, 0.01) for z in places("dome")]
    read = Jaws.on(moved, bare, 0.5).at_place(moved)
    readings = tuple(Reading(r.z, float(y), r.u, r.u_z) for r, y in zip(bare, read, strict=True))
    return Bench(at, readings, SettingErrors(), np.zeros(len(readings)))


@pytest.mark.parametrize(
    ("cause", "value"),
    [
        (Cause("cross_offset"), 0.3),
        (Cause("saddle_offset"), -0.5),
        (Cause("nose_radius", "round nose 6"), 0.6),
        (Cause("nose_radius", "round nose 6"), -0.6),
        (Cause("taper"), 0.01),
        (Cause("centre_height"), 0.16),
    ],
)
def test_a_cause_is_found_however_large_it_is(cause: Cause, value: float) -> None:
    bench = _bench([(cause, value)])
    fit = bench.fit((cause,), bench.weight(bench.positions))
    assert fit.values[0] == pytest.approx(value, abs=3 * float(fit.u[0]))
    assert fit.chi2 < 6


def test_two_causes_at_once() -> None:
    causes = (Cause("cross_offset"), Cause("nose_radius", "round nose 6"))
    bench = _bench(list(zip(causes, (0.05, 0.3), strict=True)))
    fit = bench.again(bench.fit(causes, bench.weight(bench.positions)))
    assert np.abs(fit.values - [0.05, 0.3]) == pytest.approx([0, 0], abs=3 * float(fit.u.max()))
    assert fit.clear


def test_a_centre_height_is_stated_as_itself() -> None:
    cause = Cause("centre_height")
    bench = _bench([(cause, 0.16)])
    height, u = bench.fit((cause,), bench.weight(bench.positions)).value_of(0)
    assert abs(height - 0.4) < 3 * u


def test_every_cause_is_paid_for() -> None:
    assert price(16) == pytest.approx(np.log(16) + 6)
    assert price(16, 40) > price(16) + 7
