"""Steps, both slides at once, facets: figures that follow from the formulas, on curves whose answer is known."""

import math
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.documents.jobs import pin

from ovolo.cutting.facets import facet_error, facets_for
from ovolo.cutting.hands import wound_along_arc
from ovolo.cutting.pace import Pace
from ovolo.documents.reading import job_from_data, read_job
from ovolo.plan.planner import make_plan
from ovolo.predict.forecast.outlook import forecast
from ovolo.predict.forecast.settings import settings_of
from ovolo.predict.methods.ways import HANDS, Ground, Said, both_slides, cannot, facets, spread, steps


def ground(changes: dict[str, object] | None = None) -> Ground:
    """The bridge pin of mild steel, changed at will, as the methods are judged on."""
    plan = make_plan(job_from_data(pin({"part.material": "mild steel"} | (changes or {}))))
    return Ground(plan, forecast(plan, runs=200), Pace())


@pytest.fixture(scope="module")
def dome() -> Ground:
    return ground()


@pytest.mark.parametrize(("settings", "d2"), [(2, 1.128), (5, 2.326), (10, 3.078), (16, 3.532), (25, 3.931)])
def test_the_spread_is_the_tabled_mean_range(settings: int, d2: float) -> None:
    """d2 of control charts, from memory."""
    assert spread(settings, 1.0) == pytest.approx(d2, rel=0.05)


@given(st.integers(2, 500), st.floats(0, 1))
def test_more_settings_spread_wider(settings: int, u: float) -> None:
    assert spread(settings + 1, u) >= spread(settings, u) >= 0


def test_steps_are_the_plan(dome: Ground) -> None:
    found = steps(dome)
    assert found.can
    assert found.settings == dome.plan.stations
    assert found.alone == pytest.approx(dome.plan.prediction.ridge_max, abs=1e-4)
    assert found.first == found.each == dome.expected.times.minutes
    assert found.error is not None
    assert dome.expected.scatter is not None
    assert found.error == pytest.approx(dome.expected.scatter.band.value, rel=0.15)  # drawn, in another way


def test_both_slides_gouge_as_the_formula_says(dome: Ground) -> None:
    """The worst gap against the closed form at its own spacing and slope."""
    settings = settings_of(dome.plan)
    pairs = list(pairwise(settings))[1:-1]
    formula = [
        wound_along_arc(b.place - a.place, 3, 9, math.pi / 2 - (a.normal + b.normal) / 2, HANDS, convex=True)
        for a, b in pairs
    ]
    found = both_slides(dome)
    assert found.gouge is not None
    scattered = spread(len(settings), dome.scatter) / 2
    assert found.gouge - scattered == pytest.approx(max(both.gouge for both in formula), rel=0.1)
    assert found.error is not None
    assert found.error > steps(dome).error  # type: ignore[operator]
    worst, practised = found.risks[0].lengths
    assert worst == pytest.approx(found.gouge - scattered)
    assert practised < worst


def test_both_slides_leave_no_lock_and_take_less_time(dome: Ground) -> None:
    wound, stepped = both_slides(dome), steps(dome)
    assert wound.first is not None
    assert stepped.first is not None
    assert wound.first < stepped.first


def test_the_surface_wound_stays_near_the_outline(dome: Ground) -> None:
    found = both_slides(dome)
    assert found.gouge is not None
    off = [math.hypot(p.x + 9, p.y) - 9 for p in found.shape if p.x > -8]
    assert min(off) > -found.gouge - 1e-6
    assert min(off) < -0.05


def test_a_face_before_the_curve_is_turned_with_one_slide() -> None:
    """The hands gouge no more with a face in front of a rounded corner than the corner alone has it."""
    outline = [{"z": 0, "d": 0}, {"z": 0, "d": 10}, {"z": -4, "d": 18, "convex": 4}, {"z": -24, "d": 18}]
    cornered = ground({"part.outline": outline, "part.curve": [0, -4]})
    alone = both_slides(cornered).alone
    assert alone is not None
    assert alone < 2 * cornered.plan.job.part.ridge


def test_a_shoulder_behind_a_fillet_is_turned_with_one_slide() -> None:
    """Its face, its sharp corner and the cylinder behind it are none of the hands' business."""
    plan = make_plan(read_job(Path(__file__).parents[3] / "examples" / "pivot-pin.toml"))
    shoulder = Ground(plan, forecast(plan, runs=200), Pace())
    found = both_slides(shoulder)
    assert found.alone is not None
    assert found.alone < 2 * shoulder.plan.job.part.ridge
    assert found.gouge is not None
    assert found.gouge < 0.3


def test_facets_are_those_of_the_formula(dome: Ground) -> None:
    found = facets(dome)
    count = facets_for(0.05, 9, math.pi / 2)
    assert found.settings == count
    assert found.alone == pytest.approx(facet_error(9, math.pi / 2, count), rel=1e-3)
    corners = [math.hypot(p.x + 9, p.y) - 9 for p in found.shape[1:-1]]
    assert corners == pytest.approx([found.alone] * len(corners), abs=1e-6)


def test_a_quarter_of_a_degree_tilts_the_longest_facet(dome: Ground) -> None:
    """Common practice, no source: a graduation is read to a quarter of a degree, 0.00436; the longest facet of a dome
    of R 9 is 18 tan(half its angle) long, and swings about its middle."""
    count = facets_for(0.05, 9, math.pi / 2)
    longest = 18 * math.tan(math.pi / 2 / (2 * (count + 1)))
    found = facets(dome)
    (tilts,) = [said for said in found.risks if "quarter of a degree" in said.text]
    assert tilts.lengths == pytest.approx((longest / 2 * 0.004363,), rel=1e-3)


def test_facets_of_a_hollow_are_chords() -> None:
    outline = [{"z": 0, "d": 12}, {"z": -10, "d": 18, "concave": 12}, {"z": -24, "d": 18}]
    hollow = ground({"part.outline": outline, "part.curve": [0, -10], "tool.0.nose_radius": 1})
    (piece,) = hollow.bent
    found = facets(hollow)
    for point in found.shape:
        assert math.dist(point, piece.centre) == pytest.approx(12, abs=1e-6)


def test_a_taper_is_one_facet_and_a_cylinder_none() -> None:
    outline = [{"z": 0, "d": 12}, {"z": -10, "d": 16}, {"z": -12, "d": 18}, {"z": -24, "d": 18}]
    taper = facets(ground({"part.outline": outline, "part.curve": [0, -10]}))
    assert taper.settings == 1
    assert taper.alone == 0
    plain = [{"z": 0, "d": 16}, {"z": -24, "d": 16}]
    assert not facets(ground({"part.outline": plain, "part.curve": [0, -10]})).can


def test_what_cannot_be_done_has_no_figures() -> None:
    none = cannot("x", Said("why"), ("y",))
    assert not none.can
    assert none.minutes(1) is None
    assert none.shape == ()


def test_minutes_grow_by_each_further_part(dome: Ground) -> None:
    found = facets(dome)
    assert found.first is not None
    assert found.minutes(20) == pytest.approx(20 * found.first)
