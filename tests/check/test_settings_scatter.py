"""Scatter drawn through the moves."""

import numpy as np
import pytest
from tests.check.parts import shape

from ovolo.check.jaws import Jaws
from ovolo.check.measured import Reading
from ovolo.check.positions import positions_of
from ovolo.check.settings_scatter import drawn, unbiased_inverse
from ovolo.shop.setting_errors import SettingErrors


def test_all_readings_on_one_pass_share_the_error_of_one_setting() -> None:
    at = positions_of(shape("dome").plan)
    jaws = Jaws.on(at, [Reading(z, 0.0, 0.01, 0.02) for z in (-12.0, -16.0, -20.0, -4.0)], 0.06)
    read = jaws.at_place(drawn(at, SettingErrors(), 400))
    together = np.atleast_2d(np.corrcoef(read.T))
    assert together[0, 1] == pytest.approx(1.0)
    assert abs(together[0, 3]) < 0.3
    assert read[:, 0].std() == pytest.approx(0.005, rel=0.15)


def test_the_same_seed_draws_the_same_errors() -> None:
    at = positions_of(shape("dome").plan)
    assert (drawn(at, SettingErrors(), 3).y1 == drawn(at, SettingErrors(), 3).y1).all()


def test_the_inverse_of_a_covariance_from_draws_is_right_on_average() -> None:
    source, found = np.random.default_rng(1), []
    for _ in range(400):
        found.append(unbiased_inverse(np.cov(source.standard_normal((60, 6)).T), 60))
    assert np.mean(found, axis=0) == pytest.approx(np.eye(6), abs=0.05)
