"""The sweep: what single moves take, against areas known in closed form."""

import itertools
import math

import numpy as np
import pytest
import shapely
from tests.documents.jobs import pin

from ovolo.documents.reading import job_from_data
from ovolo.geometry.segments import Point
from ovolo.plan.steps import Step
from ovolo.plan.sweep.sweep import (
    bar_region,
    blank_region,
    body_shapes,
    part_region,
    surface,
    sweep,
    tool_shape,
)
from ovolo.plan.view.frame import Frame
from ovolo.shop.edges.nosed import NOSE_CHORD
from ovolo.shop.tools import Tool

# A cylinder of Ø 18 and 24 long in a bar of Ø 20, the end face to be finished too, nothing curved.
PLAIN = Frame(
    job_from_data(
        pin(
            {
                "part.outline": [{"z": 0, "d": 0}, {"z": 0, "d": 18}, {"z": -24, "d": 18}],
                "part.curve": [0, -20],
                "stock.proud": 1,
            }
        )
    )
)
DOME = Frame(job_from_data(pin()))
NOSE = Tool("round nose", "round", 1.0)
KNIFE = Tool("knife", "pointed", 0.4)


def _steps(tool: Tool, *places: tuple[float, float]) -> list[Step]:
    pairs = itertools.pairwise(Point(*p) for p in places)
    return [Step("finish", tool, "saddle" if a.y == b.y else "cross", a, b) for a, b in pairs]


@pytest.mark.parametrize("tool", [NOSE, KNIFE, Tool("left", "pointed", 0.8, "left")], ids=lambda t: t.name)
def test_the_shape_is_a_nose_and_two_edges_that_touch_it(tool: Tool) -> None:
    shape = shapely.Polygon(tool_shape(tool))
    assert shape.equals(shape.convex_hull)
    nose = shapely.Point(0, 0).buffer(tool.nose_radius, quad_segs=512)
    assert shapely.difference(nose, shape.buffer(NOSE_CHORD)).is_empty
    # Below the place where the edges begin there is nothing but the nose.
    low = shapely.box(-99, -99, 99, -tool.nose_radius * 0.98)
    assert shapely.difference(shapely.intersection(shape, low), nose.buffer(NOSE_CHORD)).is_empty
    for angle in tool.edges:
        far = 50 * np.array([math.cos(angle), math.sin(angle)])
        assert shape.exterior.distance(shapely.Point(far)) <= tool.nose_radius + 1e-6


def test_what_holds_the_nose_begins_where_the_job_says() -> None:
    """A stem of 8 under a nose of R 1: the shank of 4 begins 7 over the nose centre, to a few micrometres, and as far
    to either side as it is wide. A nose that stands out by 5 has its bar 4 over its centre."""
    (shank,) = body_shapes(Tool("blade", "round", 1.0, stem=8.0, shank=4.0))
    assert shank.min(axis=0) == pytest.approx((-2, 7), abs=0.005)
    assert shank[:, 0].max() == pytest.approx(2)
    (bar,) = body_shapes(Tool("bar", "pointed", 1.0, stands_out=5.0))
    assert bar.min(axis=0) == pytest.approx((0, 4), abs=0.005)


def test_a_shank_that_comes_into_the_metal_is_seen() -> None:
    """A groove 2.5 deep, plunged by a nose that its shank follows: with 0.05 of metal beside it over the shank's end
    the shank fouls, with the stem 0.05 longer it does not."""
    for stem, fouls in ((2.45, True), (2.55, False)):
        tool = Tool("blade", "round", 1.0, stem=stem, shank=4.0)
        swept = sweep(PLAIN, _steps(tool, (-10, 12), (-10, 8.5)))
        assert swept.moves[0].fouls == fouls, stem


def test_regions() -> None:
    assert part_region(PLAIN).area == pytest.approx(9 * 24)
    assert blank_region(PLAIN).bounds == pytest.approx((-24, 0, 1, 10))
    assert bar_region(PLAIN).bounds[2:] == pytest.approx((-24, 10))
    assert part_region(DOME).area == pytest.approx(math.pi * 81 / 4 + 9 * 15, abs=2e-4)


def test_a_plain_pass_takes_depth_by_length() -> None:
    swept = sweep(PLAIN, _steps(NOSE, (3, 10.5), (-10, 10.5)))
    # 0.5 mm deep to the nose's centre; there its quarter stands in the metal.
    corner = (math.acos(0.5) - 0.5 * math.sqrt(0.75)) / 2
    assert swept.moves[0].area == pytest.approx(0.5 * 11 + corner, abs=1e-3)
    assert swept.moves[0].bite == pytest.approx(0.5, abs=1e-3)
    assert swept.gouge == 0


def test_a_plunge_bites_across_the_axis() -> None:
    swept = sweep(PLAIN, _steps(NOSE, (-8, 12), (-8, 10.2)))
    assert swept.moves[0].area == pytest.approx(math.acos(0.2) - 0.2 * math.sqrt(1 - 0.04), abs=1e-3)
    assert swept.moves[0].bite == pytest.approx(2 * math.sqrt(1 - 0.04), abs=0.01)


def test_metal_goes_once() -> None:
    swept = sweep(PLAIN, _steps(NOSE, (3, 10.5), (-10, 10.5), (3, 10.5)))
    assert swept.moves[1].area == pytest.approx(0, abs=1e-6)
    total = blank_region(PLAIN).area - shapely.area(swept.rest)
    assert sum(m.area for m in swept.moves) == pytest.approx(total, abs=1e-6)


@pytest.mark.parametrize("depth", [0.002, 0.05])
def test_a_gouge_is_as_deep_as_the_nose_goes(depth: float) -> None:
    assert sweep(PLAIN, _steps(NOSE, (3, 12), (3, 10 - depth), (-10, 10 - depth))).gouge == pytest.approx(
        depth, abs=1e-4
    )


def test_a_gouge_in_the_bar_behind_counts() -> None:
    assert sweep(PLAIN, _steps(NOSE, (-26, 12), (-26, 10.9))).gouge == pytest.approx(0.1, abs=1e-4)


def test_past_the_axis_the_work_turns_under_the_nose() -> None:
    """Faced to 0.6 past the middle, a nose of R 1 takes what its lower half would leave as a pip."""
    short = sweep(PLAIN, _steps(NOSE, (1.0, 12), (1.0, 0.6)))
    whole = sweep(PLAIN, _steps(NOSE, (1.0, 12), (1.0, -0.6)))
    pip = shapely.box(0, 0, 1, 1)
    assert shapely.intersection(whole.rest, pip).area < shapely.intersection(short.rest, pip).area
    assert whole.gouge <= 1e-6
    image = sweep(PLAIN, _steps(NOSE, (1.0, 12), (1.0, 0.0)))
    assert shapely.intersection(image.rest, pip).area == pytest.approx(0, abs=1e-5)


def test_a_chip_thicker_than_the_bite_is_told() -> None:
    thick, thin = (sweep(PLAIN, _steps(NOSE, (3, y), (-10, y))).moves[0].thick for y in (9.8, 10.2))
    assert thick
    assert not thin


def test_the_surface_runs_from_the_free_end_toward_the_chuck() -> None:
    swept = sweep(PLAIN, _steps(NOSE, (3, 12), (3, 10), (-25, 10)))
    border = surface(PLAIN, swept.rest)
    assert border[0] == pytest.approx((1, 0))
    assert border[-1] == pytest.approx((-24, 0))
    assert max(p.y for p in border) == pytest.approx(9, abs=1e-4)
    assert all(a != b for a, b in itertools.pairwise(border))


def test_the_bite_of_a_move_at_an_angle_is_square_to_its_feed() -> None:
    """A nose of R 1 goes down at 30°, 0.4 deep square to its way, into a wedge as steep: a strip 0.4 wide."""
    lean = math.radians(30)
    wedge = [{"z": 0, "d": 10}, {"z": -20, "d": 10 + 40 * math.tan(lean)}, {"z": -40, "d": 60}]
    frame = Frame(
        job_from_data(
            pin(
                {
                    "part.outline": [{"z": 0, "d": 4}, {"z": -20, "d": 8}, {"z": -30, "d": 8}],
                    "part.curve": [0, -10],
                    "stock": {"outline": wedge},
                }
            )
        )
    )
    up = (1.0 - 0.4) / math.cos(lean)  # of the nose centre over the wedge

    def place(x: float) -> Point:
        return Point(x, 5 - x * math.tan(lean) + up)

    (took,) = sweep(frame, [Step("finish", NOSE, "top", place(5.0), place(-15.0))]).moves
    assert took.bite == pytest.approx(0.4, abs=0.002)


def test_a_cored_blank_is_the_ring_round_its_hole() -> None:
    """Ø 50 outside; the hole Ø 18 for 11 mm, then Ø 14 for 10 mm more, to the end of the outline."""
    nodes = [{"z": 1, "d": 18}, {"z": -10, "d": 18}, {"z": -10, "d": 14}, {"z": -15, "d": 14}]
    changes = {"part.surface": "bore", "part.outline": [{"z": 0, "d": 30}, {"z": -20, "d": 20}], "part.curve": [0, -20]}
    frame = Frame(job_from_data(pin({**changes, "stock": {"diameter": 50, "outline": nodes}})))
    assert shapely.area(blank_region(frame)) == pytest.approx(11 * (25 - 9) + 10 * (25 - 7))
