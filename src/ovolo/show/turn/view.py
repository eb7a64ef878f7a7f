"""Everything that a run's page holds, as data: slides, tools, each move with its close-up, each step ahead of one."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import asdict
from typing import Any

from ovolo.documents.resolved import unit_of
from ovolo.plan.model import Plan
from ovolo.predict.forecast.overshoot import REACHED, Overshoot, overshoots
from ovolo.setup.way_back import CLEAR, WayBack, ways_back
from ovolo.show.pages.tool_picture import tool_picture
from ovolo.show.paper.cuts import Cuts
from ovolo.show.paper.svg import typeset_minus
from ovolo.show.turn.close_ups import HIGH, WIDE, close_up_pieces
from ovolo.show.turn.moves import TurnMove, slides_of, turn_moves
from ovolo.show.turn.steps import TurnStep, turn_steps

__all__ = ["turn_view"]


def turn_view(plan: Plan, document: Mapping[str, Any], run: str) -> dict[str, Any]:
    """The page of a run; `document` is the plan as it was kept, `run` its name."""
    cuts = Cuts(plan)
    unit = unit_of(plan.job)
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
        "steps": [_step(step) for step in turn_steps(plan, document["before"], cuts)],
        "ridge": plan.job.part.ridge,
        "reached": list(REACHED),
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
    ways, past = ways_back(plan), overshoots(plan)
    return [
        {**_move(move, close_up_pieces(cuts, move.n)), **_past(beyond), "way": _way(way)}
        for move, way, beyond in zip(turn_moves(plan), ways, past, strict=True)
    ]


def _past(beyond: Overshoot) -> dict[str, Any]:
    """What becomes of it past its figure, in micrometres; nothing where nothing does."""
    below = [round(1000 * depth) for depth in beyond.below]
    data: dict[str, Any] = {"below": below} if any(below) else {}
    return data if beyond.cuts_from is None else {**data, "cuts_from": beyond.cuts_from}


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
