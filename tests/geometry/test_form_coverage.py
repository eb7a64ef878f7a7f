"""What settings of form tools cover: against round noses and blades told both ways, and against places one by one."""

import math

import numpy as np
import pytest
from tests.geometry.form_tools import OUTLINE, ROUND, TOOLS

from ovolo.geometry.chain import Chain, Floats
from ovolo.geometry.coverage import RAY_STEP, Settings, spans
from ovolo.geometry.form_contact import form_height
from ovolo.geometry.form_coverage import form_settings, form_spans
from ovolo.geometry.segments import Line, Point
from ovolo.geometry.underside import Underside

RIDGE = 0.05


class Still:
    """A tool that is not taken along the axis."""

    apart = 0.0

    def limits(self, x: Floats, y: Floats, target: Floats, *, ahead: bool) -> Floats:
        return x


class Free:
    """A tool that can go anywhere."""

    apart = 0.0

    def limits(self, x: Floats, y: Floats, target: Floats, *, ahead: bool) -> Floats:
        return np.minimum(x, target) if ahead else np.maximum(x, target)


def _settings(chain: Chain, under: Underside, over: float = 0.01) -> Settings:
    x = np.linspace(-24, 1, 173)
    y = form_height(chain, x, under) + over
    touching = np.isfinite(y)
    return form_settings(chain, x[touching], y[touching], under)


def _covered_one_by_one(chain: Chain, under: Underside, x: float, y: float, at: float) -> tuple[float, float]:
    """How far the parallel lies in the tool from a place on, both ways, by looking every 2 µm."""
    ends = []
    for way in (-1, 1):
        u = np.clip(at + way * np.arange(0.0, 12.0, 0.002), 0.0, chain.length)
        px, py = chain.points(u, RIDGE)
        outside = ~(py >= y + under.height(px - x) - 1e-7)
        last = int(np.argmax(outside)) - 1 if outside.any() else len(u) - 1
        ends.append(float(u[max(last, 0)]))
    return ends[0], ends[1]


@pytest.mark.parametrize("name", TOOLS)
def test_spans_are_what_looking_place_by_place_finds(name: str) -> None:
    """Where a setting covers anything: hollow corners aside, where the parallel of one side lies over the other."""
    chain, under = Chain(OUTLINE), Underside.of(TOOLS[name])
    s = _settings(chain, under)
    found = form_spans(chain, s, under, RIDGE, Still())
    wide = found.end - found.begin > 1e-6
    assert wide.mean() > 0.9
    hollow = chain.points(np.array([chain.starts[-3]]))[0][0]  # the foot of the shoulder, the only sharp hollow
    for i in np.flatnonzero(wide & (s.x + under.right < hollow - 0.3) | wide & (s.x + under.left > hollow + 0.3)):
        middle = float(found.begin[i] + found.end[i]) / 2
        begin, end = _covered_one_by_one(chain, under, float(s.x[i]), float(s.y[i]), middle)
        assert found.begin[i] == pytest.approx(begin, abs=0.003)
        assert found.end[i] == pytest.approx(end, abs=0.003)


def test_a_round_nose_told_as_a_form_tool_covers_the_same() -> None:
    chain, under = Chain(OUTLINE), Underside.of(ROUND)
    s = _settings(chain, under)
    form = form_spans(chain, s, under, RIDGE, Free())
    nose = spans(chain, s, 3.0, RIDGE, Free())
    step = 1.001 * RAY_STEP  # where a nose is taken along the axis, places so far apart are looked at
    assert form.begin == pytest.approx(nose.begin, abs=step)
    assert form.end == pytest.approx(nose.end, abs=step)
    assert form.first == pytest.approx(nose.first, abs=step)
    assert form.last == pytest.approx(nose.last, abs=step)
    still, nose_still = form_spans(chain, s, under, RIDGE, Still()), spans(chain, s, 3.0, RIDGE, Still())
    alike = np.abs(still.begin - nose_still.begin) + np.abs(still.end - nose_still.end) < 1e-6
    assert alike.mean() > 0.9


def test_a_setting_too_high_covers_nothing() -> None:
    chain, under = Chain(OUTLINE), Underside.of(TOOLS["vee"])
    s = _settings(chain, under, over=0.4)
    found, high = form_spans(chain, s, under, RIDGE, Still()), s.gap > RIDGE
    assert high.sum() > 100
    assert not (found.end > found.begin)[high].any()


def test_along_a_cylinder_the_lowest_place_is_taken_to_its_ends() -> None:
    """A vee on a cylinder 10 long: from either side it sweeps all of it with its flat."""
    chain = Chain([Line(Point(0, 5), Point(-10, 5))])
    under = Underside.of(TOOLS["vee"])
    s = form_settings(chain, np.array([-7.0]), np.array([5.0]), under)
    found = form_spans(chain, s, under, RIDGE, Free())
    assert (found.begin[0], found.end[0]) == pytest.approx((0.0, 10.0))
    assert (found.first[0], found.last[0]) == pytest.approx((0.0, -10.0))


def test_a_corner_on_a_steep_slope_covers_what_lies_above_its_foot() -> None:
    """The parallel over the foot itself lies outside a slender tool; where it crosses the tool counts."""
    slope = math.radians(75)
    chain = Chain([Line(Point(0, 0), Point(-10 * math.cos(slope), 10 * math.sin(slope)))])
    under = Underside.of([Line(Point(-0.5, 4), Point(0, 0)), Line(Point(0, 0), Point(0.5, 4))])
    x = np.array([-1.0])
    s = form_settings(chain, x, form_height(chain, x, under), under)
    found = form_spans(chain, s, under, RIDGE, Still())
    begin, end = _covered_one_by_one(chain, under, -1.0, float(s.y[0]), float(found.begin[0] + found.end[0]) / 2)
    assert (found.begin[0], found.end[0]) == pytest.approx((begin, end), abs=0.003)
    assert found.end[0] - found.begin[0] > 0.01
