"""Tool off centre height: the right triangle of a trade article, and what old books say of tapers.

"Mind the tool centre height" (reprint of a trade-magazine article, seen) gives the triangle: height error, slide
position, cutting radius. The rows of figures are derived from it here, not printed there: each cut diameter d follows
from d^2 = shown^2 + (2 h)^2. "Turning and Boring Tapers", 1902, and Rose, Modern Machine-Shop Practice, Figs 1223-1224
(seen): above or below centre the taper is slightly less.
"""

import pytest

from ovolo.cutting.centre_height import diameter_cut, pip_diameter, taper_cut


@pytest.mark.parametrize(
    ("height", "shown", "cut"), [(0.1, 3, 3.00666), (0.1, 6, 6.00333), (0.1, 10, 10.00200), (0.25, 2, 2.06155)]
)
def test_rows_derived_from_the_triangle(height: float, shown: float, cut: float) -> None:
    assert cut**2 == pytest.approx(shown**2 + (2 * height) ** 2, rel=4e-6)  # the row itself
    assert diameter_cut(shown, height) == pytest.approx(cut, abs=6e-6)


@pytest.mark.parametrize("shown", [6.0, 10.0, 50.0])
def test_rule_of_thumb(shown: float) -> None:
    assert diameter_cut(shown, 0.1) - shown == pytest.approx(2 * 0.1**2 / shown, rel=1e-3)


def test_facing_leaves_a_pip_of_twice_the_error() -> None:
    assert pip_diameter(0.1) == pytest.approx(0.2)


@pytest.mark.parametrize("height", [0.3, -0.3])
def test_the_taper_gets_slightly_less(height: float) -> None:
    cut = taper_cut(10, 12, height)
    assert 1.99 < cut.large - cut.small < 2
