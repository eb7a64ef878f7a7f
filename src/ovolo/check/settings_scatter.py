"""What settings scatter by, drawn through the moves: all places that one setting shaped share its error."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from ovolo.check.positions import Positions
from ovolo.geometry.chain import Floats
from ovolo.shop.setting_errors import SettingErrors

__all__ = ["DRAWS", "drawn", "unbiased_inverse"]

DRAWS = 10
"""Draws for each reading: with fewer the uncertainties come out too small (a quarter at 40 draws of 16 readings)."""


def drawn(positions: Positions, errors: SettingErrors, draws: int, seed: int = 1) -> Positions:
    """The same moves so many times over, each slide brought to each figure with an error of its own.

    The same seed draws the same errors, so that two explanations of the same readings are compared on equal terms.
    """
    source, settings = np.random.default_rng(seed), positions.settings
    cross = errors.setting_cross * source.standard_normal((draws, len(settings.cross_made)))
    saddle = errors.setting_saddle * source.standard_normal((draws, len(settings.saddle_made)))
    return replace(
        positions,
        x0=positions.x0 + saddle[:, settings.saddle_start],
        x1=positions.x1 + saddle[:, settings.saddle_end],
        y0=positions.y0 + cross[:, settings.cross_start],
        y1=positions.y1 + cross[:, settings.cross_end],
    )


def unbiased_inverse(covariance: Floats, draws: int) -> Floats:
    """The inverse of a covariance found from so many draws, which would else be too large.

    Source: mean of the inverted Wishart distribution, (draws - n - 2) / (draws - 1) for n quantities.

    >>> float(unbiased_inverse(np.eye(4), 101)[0, 0])
    0.95
    """
    n = len(covariance)
    return np.asarray(np.linalg.inv(covariance) * (draws - n - 2) / (draws - 1))
