import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ovolo.cutting import uncertainty as un
from ovolo.errors import FaultsFound


@given(a=st.floats(-5, 5), b=st.floats(-5, 5), u=st.floats(0.01, 3), v=st.floats(0.01, 3))
def test_a_straight_line_is_propagated_exactly(a: float, b: float, u: float, v: float) -> None:
    budget = un.propagate(lambda x, y: a * x + b * y + 1, [un.normal("x", 2, u), un.normal("y", 3, v)])
    assert budget.value == pytest.approx(2 * a + 3 * b + 1)
    assert budget.u == pytest.approx(math.hypot(a * u, b * v), abs=1e-12)
    assert [row.sensitivity for row in budget.contributions] == pytest.approx([a, b], abs=1e-9)


SHAPES = [
    un.normal("x", 1, 0.5),
    un.rectangular("x", 1, 0.5),
    un.triangular("x", 1, 0.5),
    un.arcsine("x", 1, 0.5),
]


@pytest.mark.parametrize("quantity", SHAPES, ids=[q.shape for q in SHAPES])
def test_each_shape_is_drawn_with_its_own_u(quantity: un.Quantity) -> None:
    scatter = un.simulate(lambda x: x, [quantity], runs=40_000)
    assert abs(scatter.u - quantity.u) < 4 * scatter.u_error
    assert abs(scatter.value - 1) < 4 * scatter.value_error


@pytest.mark.parametrize("quantity", SHAPES[1:], ids=[q.shape for q in SHAPES[1:]])
def test_bounded_shapes_stay_within_their_bounds(quantity: un.Quantity) -> None:
    scatter = un.simulate(lambda x: x, [quantity], share=0.9999)
    assert 0.5 <= scatter.low < scatter.high <= 1.5


def test_a_t_distribution_is_wider_than_the_normal() -> None:
    few = un.simulate(lambda x: x, [un.normal("x", 0, 1, dof=5)], runs=40_000)
    assert few.u == pytest.approx(math.sqrt(5 / 3), rel=0.05)


def test_both_ways_agree_on_a_nearly_straight_model() -> None:
    def groove(w: "np.ndarray[tuple[int], np.dtype[np.float64]]", t: float) -> object:
        return (w * w / 4 + t * t) / (2 * t)

    quantities = [un.normal("w", 4, 0.02), un.rectangular("t", 1, 0.01)]
    first, drawn = un.propagate(groove, quantities), un.simulate(groove, quantities, runs=50_000)
    assert abs(first.u - drawn.u) < 4 * drawn.u_error + 1e-3 * first.u
    assert abs(first.value - drawn.value) < 4 * drawn.value_error + 1e-3 * first.u


def test_where_the_model_bends_only_the_draws_are_right() -> None:
    first = un.propagate(lambda h: h * h, [un.normal("h", 0, 1)])
    drawn = un.simulate(lambda h: h * h, [un.normal("h", 0, 1)], runs=40_000)
    assert first.u == 0
    assert drawn.u == pytest.approx(math.sqrt(2), rel=0.05)


def test_the_same_seed_gives_the_same_figures_and_another_seed_others() -> None:
    runs = [un.simulate(lambda x: x, [un.normal("x", 0, 1)], seed=seed) for seed in (7, 7, 8)]
    assert runs[0] == runs[1] != runs[2]


def test_four_times_the_runs_halve_the_error() -> None:
    few, many = (un.simulate(lambda x: x, [un.normal("x", 0, 1)], runs=runs) for runs in (5_000, 500_000))
    assert many.value_error < few.value_error / 3
    assert many.settled(0.03)
    assert not few.settled(0.001)


def test_the_error_told_is_the_error_made() -> None:
    scatters = [un.simulate(lambda x: x, [un.normal("x", 0, 1)], runs=2_000, seed=seed) for seed in range(60)]
    made = np.std([scatter.u for scatter in scatters], ddof=1)
    told = np.mean([scatter.u_error for scatter in scatters])
    assert told == pytest.approx(made, rel=0.35)
    assert told == pytest.approx(1 / math.sqrt(2 * 2_000), rel=0.2)


def test_stand_off_keeps_the_chance() -> None:
    draws = np.random.default_rng(3).normal(0, 0.01, 100_000)
    margin = un.stand_off(draws, 0.05)
    assert margin == pytest.approx(0.016449, rel=0.02)
    assert un.chance_below(draws + margin)[0] <= 0.05


def test_no_stand_off_where_nothing_comes_near() -> None:
    draws = np.linspace(0.01, 0.02, 1000)
    assert un.stand_off(draws) == 0
    share, error = un.chance_below(draws)
    assert share == 0
    assert 0 < error < 0.01


def test_a_model_without_scatter_has_none() -> None:
    scatter = un.simulate(lambda x: 3.0, [un.normal("x", 0, 1)])
    assert (scatter.value, scatter.u, scatter.low, scatter.high) == (3, 0, 3, 3)
    assert un.effective_dof([0.0, 0.0], [3, 4]) == math.inf


@given(parts=st.lists(st.tuples(st.floats(0.01, 10), st.floats(1, 100)), min_size=1, max_size=6))
def test_effective_freedom_lies_between_the_least_and_the_sum(parts: list[tuple[float, float]]) -> None:
    dofs = [dof for _, dof in parts]
    found = un.effective_dof([u for u, _ in parts], dofs)
    assert min(dofs) * (1 - 1e-9) <= found <= sum(dofs) * (1 + 1e-9)


@pytest.mark.parametrize(
    "call",
    [
        lambda: un.normal("x", math.nan, 1),
        lambda: un.normal("x", 0, -1),
        lambda: un.normal("x", 0, 1, dof=0),
        lambda: un.simulate(lambda x: x, [un.normal("x", 0, 1)], runs=10),
        lambda: un.simulate(lambda x: x * math.nan, [un.normal("x", 0, 1)]),
        lambda: un.stand_off(np.zeros(1000), 0.9),
        lambda: un.coverage_factor(5, 1.5),
    ],
)
def test_what_does_not_make_sense_is_refused(call: object) -> None:
    with pytest.raises(FaultsFound, match="allowed"):
        call()  # type: ignore[operator]
