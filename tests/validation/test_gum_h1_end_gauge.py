"""GUM (JCGM 100:2008) example H.1, calibration of an end gauge, lengths in nm.

Inputs, l, u and budget: as reproduced in the documentation of a GUM program (seen); nu_eff 16 (16.75
in that program, seen), t99 2.92, U99 93 nm:
JCGM 100 H.1.6, from memory. The same example by Monte Carlo, u 36 nm: JCGM 101, 9.5, from memory.
"""

import math

import pytest

from ovolo.cutting.uncertainty import (
    Budget,
    Quantity,
    arcsine,
    coverage_factor,
    normal,
    propagate,
    rectangular,
    simulate,
)

QUANTITIES: list[Quantity] = [
    normal("l_s", 50_000_623, 25, 18),
    normal("d, repeated", 215, 5.8, 24),
    normal("d, random", 0, 3.9, 5),
    normal("d, systematic", 0, 6.7, 8),
    rectangular("alpha_s", 11.5e-6, 2e-6),
    normal("mean theta", -0.1, 0.2),
    arcsine("cyclic theta", 0, 0.5),
    rectangular("delta alpha", 0, 1e-6, 50),
    rectangular("delta theta", 0, 0.05, 2),
]


def end_gauge(  # type: ignore[no-untyped-def]  # numbers or arrays
    l_s, repeated, random, systematic, alpha, mean, cyclic, delta_alpha, delta_theta
):
    theta = mean + cyclic
    return l_s + repeated + random + systematic - l_s * (delta_alpha * theta + alpha * delta_theta)


@pytest.fixture(scope="module")
def budget() -> Budget:
    return propagate(end_gauge, QUANTITIES)


def test_length_and_uncertainty(budget: Budget) -> None:
    assert budget.value == pytest.approx(50_000_838, abs=0.5)
    # The four parts as printed, each rounded: 25, 9.7 (of d), 2.9 and 16.6 nm.
    assert budget.u == pytest.approx(math.hypot(25, 9.7, 2.9, 16.6), abs=0.02)
    assert round(budget.u) == 32


def test_budget(budget: Budget) -> None:
    found = {row.name: row.u for row in budget.contributions}
    printed = {
        "l_s": 25, "delta theta": 16.599, "d, systematic": 6.7, "d, repeated": 5.8, "d, random": 3.9,
        "delta alpha": 2.887, "alpha_s": 0, "mean theta": 0, "cyclic theta": 0,
    }  # fmt: skip
    assert found == pytest.approx(printed, abs=1e-3)


def test_degrees_of_freedom_and_expanded_uncertainty(budget: Budget) -> None:
    assert budget.dof == pytest.approx(16.75, abs=0.005)
    assert math.floor(budget.dof) == 16
    assert coverage_factor(16, 0.99) == pytest.approx(2.92, abs=0.005)
    # The GUM rounds u to 32 first, and so gets 93 where 92.5 comes of what is not rounded.
    assert budget.expanded(0.99) == pytest.approx(2.9208 * budget.u, abs=0.01)
    assert round(2.92 * round(budget.u)) == 93


def test_the_draws_also_see_the_second_order() -> None:
    drawn = simulate(end_gauge, QUANTITIES, runs=200_000)
    assert drawn.value == pytest.approx(50_000_838, abs=0.5)
    assert drawn.u == pytest.approx(36, abs=1.2)


def test_one_sided_guard_factor() -> None:
    # ISO 14253-1:2017, 95 % on one side: 1.65 u (from memory).
    assert coverage_factor(math.inf, 0.90) == pytest.approx(1.6449, abs=5e-5)
