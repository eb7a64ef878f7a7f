"""The grid of whole counts: the next place either way."""

from hypothesis import given
from hypothesis import strategies as st

from ovolo.plan.view.lattice import Lattice


@given(st.floats(-50, 50), st.sampled_from([0.0025, 0.005, 0.0254]), st.floats(-3, 3))
def test_up_is_the_next_column_and_down_the_one_before(x: float, step: float, origin: float) -> None:
    lattice = Lattice(origin, step, origin, step)
    up, down = lattice.column_at(x, True), lattice.column_at(x, False)
    assert lattice.x(up) >= x - 1e-6 * step
    assert lattice.x(up - 1) < x
    assert lattice.x(down) <= x + 1e-6 * step
    assert lattice.x(down + 1) > x
    assert lattice.x_up(x) == lattice.x(up)
    assert lattice.y_up(x) == lattice.y(lattice.row_at(x, True))


@given(st.integers(-5000, 5000))
def test_a_place_on_the_grid_is_its_own(column: int) -> None:
    lattice = Lattice(3.0, 0.005, 3.0, 0.0025)
    assert lattice.column_at(lattice.x(column), True) == column
    assert lattice.column_at(lattice.x(column), False) == column
