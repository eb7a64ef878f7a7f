"""Contact of form tools: against the exact discs of round noses, against shapely, and where it is known by hand."""

import math

import numpy as np
import pytest
import shapely
from shapely import affinity
from tests.geometry.form_tools import OUTLINE, ROUND, TOOLS

from ovolo.geometry.chain import Chain
from ovolo.geometry.contact import contact_height
from ovolo.geometry.form_contact import form_gap, form_height
from ovolo.geometry.segments import Arc, Line, Point, Segment
from ovolo.geometry.underside import Underside

UPRIGHT = (math.pi / 2, math.pi / 2)
PLACES = np.linspace(-45, 8, 20001)


def _both(one: np.ndarray, other: np.ndarray) -> np.ndarray:
    """How far two rows of heights differ; where one tool touches nothing, neither does the other."""
    assert (np.isfinite(one) == np.isfinite(other)).all()
    touching = np.isfinite(one)
    return np.asarray(np.abs(one[touching] - other[touching]))


@pytest.mark.parametrize("spare", [0.0, 0.3])
def test_a_round_nose_told_as_a_form_tool_stands_where_the_nose_does(spare: float) -> None:
    chain = Chain(OUTLINE)
    nose = contact_height(chain, PLACES, 3.0 + spare, UPRIGHT)
    assert _both(form_height(chain, PLACES, Underside.of(ROUND).parallel(spare)), nose).max() < 2e-4


def test_a_blade_stands_where_its_two_corners_do() -> None:
    """A blade rests on the higher of its corners, or on what lies between them: over this outline on a corner."""
    chain = Chain([Line(Point(0, 2), Point(-6, 5)), Line(Point(-6, 5), Point(-20, 5))])
    corner, flat = 0.3, 2.4
    blade: list[Segment] = [
        Arc(Point(-corner, 0), Point(0, -corner), Point(0, 0), True),
        Line(Point(0, -corner), Point(flat, -corner)),
        Arc(Point(flat, -corner), Point(flat + corner, 0), Point(flat, 0), True),
    ]
    x = np.linspace(-10, -1, 4001)
    corners = [contact_height(chain, x + at, corner, UPRIGHT) for at in (0.0, flat)]
    assert form_height(chain, x, Underside.of(blade)) == pytest.approx(np.maximum(*corners), abs=2e-4)


def test_a_corner_follows_the_outline_itself() -> None:
    """On a slope that rises toward the chuck a square tool rests on its corner toward the chuck."""
    chain = Chain([Line(Point(0, 2), Point(-8, 6))])
    x = np.array([-7.0, -4.0, -1.5])
    assert form_height(chain, x, Underside.of(TOOLS["square"])) == pytest.approx(2 - x / 2, abs=1e-9)


def test_beside_a_wall_it_only_touches() -> None:
    chain = Chain([Line(Point(0, 2), Point(-8, 2)), Line(Point(-8, 2), Point(-8, 6))])
    heights = form_height(chain, np.array([-8.01, -8.0, -7.99]), Underside.of(TOOLS["square"]))
    assert heights == pytest.approx([6, 2, 2])


@pytest.mark.parametrize("name", TOOLS)
def test_gaps_and_feet_are_those_of_the_two_shapes(name: str) -> None:
    """Shapely's distance between tool and outline; at a contact height it is nothing."""
    chain, under = Chain(OUTLINE), Underside.of(TOOLS[name])
    x = np.linspace(-30, 3, 97)
    x = x[np.isfinite(form_height(chain, x, under))]
    over = np.tile([0.0, 0.004, 0.03, 0.08], len(x))[: len(x)]
    y = form_height(chain, x, under) + over
    u, gap = form_gap(chain, x, y, under, 1.0)
    line = shapely.LineString([tuple(p) for s in OUTLINE for p in s.flattened(1e-5)])
    points = np.vstack([[under.left, 60], under.points(1e-5), [under.right, 60]])
    tools = [affinity.translate(shapely.Polygon(points), *at) for at in zip(x, y, strict=True)]
    assert gap == pytest.approx(shapely.distance(np.array(tools), line), abs=3e-5)
    assert gap[over == 0.0].max() < 1e-5
    feet = shapely.points(np.column_stack(chain.points(u)))
    assert gap == pytest.approx(shapely.distance(np.array(tools), feet), abs=3e-5)


def test_what_is_far_has_no_gap() -> None:
    _, gap = form_gap(Chain(OUTLINE), np.array([-12.0]), np.array([20.0]), Underside.of(ROUND), 1.0)
    assert math.isinf(gap[0])
