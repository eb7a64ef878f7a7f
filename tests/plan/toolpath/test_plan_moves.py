"""Laying down: rules and how they are counted, orders of tools, winding past, the blank."""

import itertools
import math

import numpy as np
import pytest
import shapely
from tests.documents.jobs import Data, pin

from ovolo.documents.reading import job_from_data
from ovolo.geometry.segments import Point
from ovolo.plan.model import Stage
from ovolo.plan.planner import make_plan
from ovolo.plan.stations.choose_tools import Work, assign, reach_of
from ovolo.plan.steps import Step
from ovolo.plan.sweep.sweep import Sweep, Swept
from ovolo.plan.toolpath import plan_moves as laying
from ovolo.plan.toolpath.ground import Care
from ovolo.plan.toolpath.plan_moves import (
    CHANGE,
    Draft,
    _cost,
    _orders,
    _plunge,
    _swept,
    blank_metal,
    lay_down,
    rules_broken,
)
from ovolo.plan.view.frame import Frame
from ovolo.shop.tools import Tool

FRAME = Frame(job_from_data(pin()))
NOSE = FRAME.job.shop.tools[0]
NAMES = ("a", "b", "c", "d")
TOOLS = [Tool(name, "pointed", 0.4) for name in NAMES]


def _step(stage: Stage, tool: Tool = NOSE) -> Step:
    return Step(stage, tool, "saddle", Point(6, 12), Point(0, 12))


ROUGH = Swept(2.0, 0.9, False)


@pytest.mark.parametrize(
    ("stage", "took", "gouge", "broken"),
    [
        ("finish", Swept(1.9, 2.5, False), 0.0, 0),
        ("finish", Swept(1.9, 5.0, False), 0.0, 1),
        ("finish", Swept(2.1, 0.5, False), 0.0, 1),
        ("finish", Swept(1.0, 0.5, True), 0.0, 1),
        ("rough", Swept(1.0, 1.2, False), 0.0, 1),
        ("rough", Swept(9.0, 1.0, False), 0.0, 0),
        ("finish", Swept(1.0, 0.5, False), 0.002, 1),
        ("finish", Swept(2.1, 0.5, False), 0.002, 2),
    ],
    ids=[
        "light",
        "over the plunge",
        "heavier than roughing",
        "thick",
        "over the bite",
        "heavy roughing",
        "a gouge",
        "both",
    ],
)
def test_rules(stage: Stage, took: Swept, gouge: float, broken: int) -> None:
    steps, swept = [_step("rough"), _step(stage)], Sweep((ROUGH, took), None, gouge)  # type: ignore[arg-type]
    assert rules_broken(FRAME, steps, swept) == broken


def test_where_nothing_is_roughed_the_bite_holds_for_every_move() -> None:
    wide = Sweep((Swept(2.0, 1.5, False),), None, 0.0)  # type: ignore[arg-type]
    assert rules_broken(FRAME, [_step("finish")], wide) == 1


def _works(*names: str) -> list[Work]:
    return [Work(t, (), (), 0.0) for t in TOOLS if t.name in names]


def test_every_order_and_each_after_a_tool_that_only_roughs() -> None:
    found = [tuple(w.tool.name for w in order) for order in _orders(_works("a", "b"), TOOLS)]
    assert set(found) >= {("a", "b"), ("b", "a"), ("c", "a", "b"), ("d", "b", "a")}
    assert len(found) == len(set(found))
    assert all({"a", "b"} <= set(order) for order in found)


def test_a_change_of_tool_costs_as_much_as_many_moves() -> None:
    same = [_step("rough", TOOLS[0])] * 10
    other = [*same[:5], *[_step("rough", TOOLS[1])] * 5]
    assert _cost(same) == 10
    assert _cost(other) == 10 + CHANGE


@pytest.mark.parametrize("radius", [0.4, 1.0, 3.0])
def test_how_deep_a_nose_may_be_fed_in(radius: float) -> None:
    """The chord of the nose at that depth is the bite."""
    depth = _plunge(FRAME, Tool("nose", "round", radius))
    wide = 2 * math.sqrt(max(radius**2 - (radius - depth) ** 2, 0)) if depth < radius else 2 * radius
    assert wide == pytest.approx(min(1.0, 2 * radius))


def test_the_blank_reaches_beyond_every_nose() -> None:
    metal = blank_metal(FRAME, [NOSE])
    assert metal.x[0] < FRAME.back - NOSE.nose_radius
    assert metal.x[-1] > FRAME.front + 2 * NOSE.nose_radius
    assert np.diff(metal.x) == pytest.approx(np.full(len(metal.x) - 1, metal.pitch))
    assert set(np.unique(metal.height[metal.x <= FRAME.front])) == {10.0}
    assert metal.height[metal.x > FRAME.front + metal.pitch].max() < 0


def _laid(changes: Data | None = None) -> tuple[Frame, list[Step], Sweep, int]:
    frame = Frame(job_from_data(pin(changes)))
    tools = frame.job.shop.tools
    assignment = assign(frame, [reach_of(frame, t, frame.job.part.ridge) for t in tools], frame.job.part.ridge)
    assert assignment is not None
    return (frame, *lay_down(frame, assignment, tools)[:3])


def test_rough_then_finish_and_no_rule_broken() -> None:
    frame, steps, swept, broken = _laid()
    assert broken == rules_broken(frame, steps, swept) == 0
    assert [stage for stage, _ in itertools.groupby(s.stage for s in steps)] == ["rough", "finish"]


def test_a_tool_is_not_returned_to() -> None:
    outline = [
        {"z": 0, "d": 0},
        {"z": 0, "d": 24},
        {"z": -6, "d": 24},
        {"z": -14, "d": 24, "concave": 5},
        {"z": -40, "d": 24},
    ]
    hands = [{"name": hand, "nose_radius": 0.4, "hand": hand} for hand in ("right", "left")]
    cove = {"part.outline": outline, "part.curve": [-5, -15], "stock": {"diameter": 25}, "tool": hands}
    _, steps, _, broken = _laid(cove)
    assert broken == 0
    turns = [name for name, _ in itertools.groupby(s.tool.name for s in steps)]
    assert len(turns) == len(set(turns)) == 2


def test_what_leans_over_the_curve_breaks_a_rule_where_that_is_asked() -> None:
    frame, steps, _, _ = _laid()
    roughed = [s for s in steps if s.stage == "rough"]  # the allowance still stands everywhere
    assert [_swept(frame, roughed, Care(), strict).broken for strict in (False, True)] == [0, 1]
    assert _swept(frame, steps, Care(), strict=True).broken == 0


def test_a_tool_that_did_nothing_has_not_roughed() -> None:
    """A falling flank before a cylinder: the right-hand knife has to clear what leans over the end of the curve, though
    the left-hand knife may stand in the order before it."""
    flank = {
        "title": "Rope stop",
        "part": {
            "surface": "outside",
            "curve": [0, -4.7797],
            "outline": [
                {"z": 0, "d": 0},
                {"z": 0, "d": 15.9901},
                {"z": -1.8145, "d": 15.2888, "concave": 6.4866},
                {"z": -4.7797, "d": 13.9378, "convex": 8.6836},
                {"z": -25.5256, "d": 13.9378},
            ],
        },
        "stock": {"diameter": 18.81, "proud": 1.0, "stick_out": 150},
        "tool": [
            {"name": "right", "hand": "right", "nose_radius": 0.2, "edge_angle": 91, "point_angle": 35},
            {"name": "left", "hand": "left", "nose_radius": 0.2, "edge_angle": 93, "point_angle": 55},
        ],
        "finish": {"ridge": 0.1, "allowance": 0.2},
        "limits": {"bite": 2.0},
        "slide": {
            "cross": {"reads": "diameter", "grows": "in", "count": 0.01},
            "saddle": {"grows": "toward", "count": 0.02},
        },
    }
    plan = make_plan(job_from_data(pin(flank)))
    assert plan.prediction.ridge_max <= 0.1


@pytest.mark.parametrize(
    ("broken", "long", "rounds"),
    [([30, 30, 0], True, 2), ([30, 20, 0], True, 3), ([9, 9, 0], True, 3), ([30, 30, 0], False, 3)],
)
def test_roughing_is_not_planned_again_where_leaving_less_is_no_help(
    broken: list[int], long: bool, rounds: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Many rules broken and no fewer the next time: no use in going on. Few broken, or fewer each time, or drafts that
    take no time: it goes on."""
    monkeypatch.setattr(laying, "LONG", 0 if long else 10_000)
    frame = Frame(job_from_data(pin()))
    tool = frame.job.shop.tools[0]
    assignment = assign(frame, [reach_of(frame, tool, frame.job.part.ridge)], frame.job.part.ridge)
    assert assignment is not None
    left = iter([*broken, 0, 0, 0, 0])
    cares: list[Care] = []

    def swept(_: Frame, steps: list[Step], care: Care, strict: bool) -> Draft:
        cares.append(care)
        return Draft(steps, Sweep((), shapely.Point(), 0.0), next(left), care)

    monkeypatch.setattr(laying, "_swept", swept)
    draft = lay_down(frame, assignment, [tool])
    assert len(cares) == rounds
    assert draft.broken == min(broken[:rounds])


def test_a_crown_of_which_next_to_nothing_has_to_go_is_planned() -> None:
    """Less than the allowance stands over it: roughing has to leave less, though leaving all breaks many rules."""
    crown = {
        "part.outline": [
            {"z": 0, "d": 0},
            {"z": 0, "d": 50.0829},
            {"z": -11.6691, "d": 51.4493, "through": [-5.824578, 51.107402]},
            {"z": -23.3383, "d": 50.0829, "through": [-17.513697, 51.107402]},
            {"z": -27.3383, "d": 50.0829},
        ],
        "part.curve": [0, -23.3383],
        "stock": {"diameter": 51.81, "proud": 0.3, "stick_out": 150},
        "tool": [
            {"name": "nose", "kind": "round", "nose_radius": 3},
            {"name": "knife", "nose_radius": 0.8, "edge_angle": 95, "point_angle": 55},
        ],
        "finish": {"ridge": 0.125, "allowance": 0.3},
        "limits.bite": 2.0,
        "slide": {"cross": {"reads": "radius", "grows": "in", "count": 0.02}, "saddle": {"count": 0.05}},
    }
    assert make_plan(job_from_data(pin(crown))).stations > 0
