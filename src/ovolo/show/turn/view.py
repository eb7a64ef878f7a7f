"""Everything that a run's page holds, as data: slides, tools, each move with its close-up, each step ahead of one."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import asdict
from typing import Any

from ovolo.plan.model import Plan
from ovolo.predict.forecast.going_on import FARTHEST_ON, GoingOn, going_on
from ovolo.predict.forecast.overshoot import FARTHEST, Overshoot, overshoots
from ovolo.predict.forecast.sampled import Line
from ovolo.setup.way_back import CLEAR, WayBack, ways_back
from ovolo.show.pages.tool_picture import tool_picture
from ovolo.show.paper.cuts import Cuts
from ovolo.show.paper.svg import typeset_minus
from ovolo.show.turn.again import series_of, steps_again
from ovolo.show.turn.close_ups import HIGH, WIDE, close_up_pieces
from ovolo.show.turn.moves import TurnMove, slides_of, turn_moves
from ovolo.show.turn.steps import TurnStep, turn_steps

__all__ = ["turn_view"]


def turn_view(
    plan: Plan, document: Mapping[str, Any], run: str, series: Mapping[str, Any] | None = None
) -> dict[str, Any]:
    """The page of a run; `document` is the plan as it was kept, `run` its name, `series` what it takes over where it
    is one of several equal parts."""
    cuts = Cuts(plan)
    taken_over = series_of(plan, series or {})
    unit = plan.job.units
    return {
        "run": run,
        "title": plan.job.title,
        "checksum": document["checksum"],
        "unit": unit,
        "bore": cuts.bore,
        "stations": plan.stations,
        "slides": {name: asdict(slide) for name, slide in slides_of(plan).items()},
        "tools": [tool.name for tool in plan.tools],
        "pictures": [tool_picture(tool, unit, plan.job.shop.lathe) for tool in plan.tools],
        "box": [WIDE, HIGH],
        "steps": [_step(step) for step in steps_again(turn_steps(plan, document["before"], cuts), taken_over)],
        "series": asdict(taken_over),
        "ridge": plan.job.part.ridge,
        "farthest": [FARTHEST, FARTHEST_ON],
        "rehearsal": rehearsal(plan),
        "moves": _moves(plan, cuts),
    }


def rehearsal(plan: Plan) -> float:
    """How far out the cross slide stays while moves are rehearsed, what its figure changes by: a round figure, on a
    dial whole turns, so that the division is the same. 0 in a bore, where there is no room for it."""
    cross, stock = plan.job.shop.cross, plan.job.shop.stock
    if plan.job.part.surface == "bore":
        return 0.0
    lowest = max((tool.nose_radius for tool in plan.tools), default=0.0)
    least = stock.widest + 2 * lowest + CLEAR
    step = cross.per_turn if cross.on_dial and cross.per_turn else 10.0 * cross.unit / (25.4 if cross.unit != 1 else 1)
    return round(math.ceil(least / step) * step * cross.factor / cross.unit, 9)


def _moves(plan: Plan, cuts: Cuts) -> list[dict[str, Any]]:
    answers = zip(turn_moves(plan), ways_back(plan), overshoots(plan), going_on(plan), strict=True)
    return [
        {**_move(move, close_up_pieces(cuts, move.n)), **_past(beyond), **_on(on), "way": _way(way)}
        for move, way, beyond, on in answers
    ]


def _past(beyond: Overshoot) -> dict[str, Any]:
    """What becomes of it past its figure; nothing where nothing does."""
    data: dict[str, Any] = {"below": _whole(beyond.below)} if beyond.below else {}
    return data if beyond.cuts_from is None else {**data, "cuts_from": beyond.cuts_from}


def _on(on: GoingOn | None) -> dict[str, Any]:
    """The highest ridge and the greatest depth if the next cut is taken from there."""
    if on is None:
        return {}
    deep = any(depth for _, depth in on.below)
    return {"on": {"ridge": _whole(on.ridge), **({"below": _whole(on.below)} if deep else {})}}


def _whole(line: Line) -> list[int]:
    """Places and values one after the other, in micrometres."""
    return [round(1000 * number) for pair in line for number in pair]


def _way(way: WayBack) -> list[Any]:
    """The slide that leads out, how far the other one goes aside first, the figure, the move to go on from."""
    return [way.out, way.aside, way.clear, way.go_on]


def _move(move: TurnMove, close_up: str) -> dict[str, Any]:
    """A move with its close-up; what says nothing is left out."""
    said = _said(vars(move))
    return {**said, **({"feed": typeset_minus(move.feed)} if move.feed else {}), "drawn": close_up}


def _step(step: TurnStep) -> dict[str, Any]:
    lines = [typeset_minus(line) for line in step.lines]
    return {**_said(vars(step)), "lines": lines, "entries": [asdict(entry) for entry in step.entries]}


def _said(values: Mapping[str, Any]) -> dict[str, Any]:
    nothing = ("", None, False, ())
    return {name: value for name, value in values.items() if not any(value is one for one in nothing) and value != ()}
