"""New jobs plan by themselves: the usual drawer, a bar, a projection, and a curve that is what is curved."""

import pytest

from ovolo.documents.reading import job_from_data
from ovolo.documents.starting import (
    curved_stretch,
    started,
    started_around,
    usual_curve,
    usual_facing,
    usual_stick_out,
    usual_tools,
)
from ovolo.documents.starts import STARTS
from ovolo.errors import JobFaults
from ovolo.geometry.outline import Outline
from ovolo.geometry.segments import Line, Point
from ovolo.part.forms import outline_from_forms
from ovolo.plan.planner import make_plan
from ovolo.units import Unit

MOST = {"dome": 50, "ball": 160}
"""Moves of a start that people still follow; of all other forms 240."""


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("name", STARTS)
def test_every_form_plans_by_itself(name: str, unit: Unit) -> None:
    plan = make_plan(job_from_data(started(name, unit=unit)))
    assert len(plan.moves) <= MOST.get(name, 240)
    assert plan.prediction.ridge_max <= plan.job.part.ridge + 1.5e-3


@pytest.mark.parametrize(
    ("name", "curve"),
    [
        ("dome", (0, -9)),
        ("end radius", (0, -4)),
        ("ball", (0, -25.1194)),
        ("taper", (0, -40)),
        ("crown", (0, -40)),
        ("handle", (0, -67)),
        ("bell mouth", (0, -4)),
        ("groove", (-15, -25)),
        ("fillet", (-16, -20)),
    ],
)
def test_the_curve_is_what_is_curved(name: str, curve: tuple[float, float]) -> None:
    """Not the cylinder behind it. The ball's fillet ends where its circle of R 3 is as low as the neck."""
    job = job_from_data(started(name))
    assert job.part.curve == pytest.approx(curve, abs=1e-4)


def test_a_curve_that_runs_on_to_the_bar_is_left_to_the_default() -> None:
    taper = outline_from_forms([{"form": "taper", "diameter": 12, "to_diameter": 14, "length": 40}], 1.0)
    assert curved_stretch(taper) == (0.0, -40.0)
    assert usual_curve(taper) == ()
    assert curved_stretch(Outline((Line(Point(0, 9), Point(-24, 9)),))) is None


def test_a_shop_of_ones_own_takes_the_place_of_the_usual_drawer() -> None:
    shop = {"tool": [{"name": "nose", "kind": "round", "nose_radius": 1}], "title": "not this", "limits": {"bite": 0.5}}
    job = job_from_data(started("dome", {"diameter": "20"}, shop=shop))
    assert [tool.name for tool in job.shop.tools] == ["nose"]
    assert job.shop.bite == 0.5
    assert job.title == "A domed end on a pin"
    assert job.part.outline.bounds()[3] == pytest.approx(10)


def test_faults_are_placed_at_their_sizes_all_at_once() -> None:
    with pytest.raises(JobFaults) as wrong:
        started("ball", {"width": "3", "neck": "-1", "length": "x"})
    assert [f.where for f in wrong.value.faults] == ["sizes.width", "sizes.neck", "sizes.length"]
    with pytest.raises(JobFaults) as wrong:
        started("ball", {"neck": "30"})
    assert [f.where for f in wrong.value.faults] == ["sizes.neck"]
    with pytest.raises(JobFaults, match="no job starts from this form"):
        started("cube")


def test_what_is_taken_for_granted_in_either_unit() -> None:
    assert [tool.kind for tool in usual_tools("mm", "outside")] == ["pointed", "pointed", "round", "grooving"]
    assert usual_tools("in", "outside")[-1].width == pytest.approx(25.4 / 8)
    assert usual_facing("in") == pytest.approx(0.508)
    assert usual_stick_out(outline_from_forms([{"form": "dome", "diameter": 18}], 1.0), "in") == pytest.approx(25.4)


def test_around_an_outline_from_a_drawing() -> None:
    pin = outline_from_forms([{"form": "dome", "diameter": 18}, {"form": "cylinder", "to": -24}], 1.0)
    data = started_around(pin, "outside", "mm", "Pin")
    assert data["part"]["curve"] == [0, -9]
    assert data["stock"] == {"diameter": 19, "proud": 0.5, "stick_out": 40}
