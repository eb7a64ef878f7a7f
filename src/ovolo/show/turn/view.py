"""Everything that a run's page holds, as data: slides, tools, each move with its close-up, each step ahead of one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from typing import Any

from ovolo.documents.resolved import unit_of
from ovolo.plan.model import Plan
from ovolo.show.pages.tool_picture import tool_picture
from ovolo.show.paper.cuts import Cuts
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
        "moves": [_move(move, close_up_pieces(cuts, move.n)) for move in turn_moves(plan)],
    }


def _move(move: TurnMove, close_up: str) -> dict[str, Any]:
    """A move with its close-up; what says nothing is left out."""
    return {**_said(vars(move)), "drawn": close_up}


def _step(step: TurnStep) -> dict[str, Any]:
    return {**_said(vars(step)), "entries": [asdict(entry) for entry in step.entries]}


def _said(values: Mapping[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in values.items() if value not in ("", None, False, ())}
