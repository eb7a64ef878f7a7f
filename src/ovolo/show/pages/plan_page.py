"""The page Plan: drawing, sentence, figures, moves; everything that it shows, as data."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from typing import Any

from ovolo.documents.plan.document import plan_as_data
from ovolo.documents.plan.words import note_text
from ovolo.plan.model import Move, Plan
from ovolo.plan.report.facts import EqualStepsNote
from ovolo.show.pages.scene import box_of, feet, scene
from ovolo.show.pages.words import result_sentence
from ovolo.show.paper.cuts import Cuts
from ovolo.show.words.setting_up import setting_up
from ovolo.show.words.table import left_sentences, moves_table
from ovolo.units import format_figure

__all__ = ["plan_page"]


def plan_page(plan: Plan) -> dict[str, Any]:
    """All that the page shows of a plan, ready for JSON; lengths in mm, what is to be read is text."""
    cuts, unit = Cuts(plan), plan.job.units
    before, figure, after = result_sentence(plan)
    table = moves_table(plan)
    return {
        "title": plan.job.title,
        "checksum": plan_as_data(plan)["checksum"],
        "unit": unit,
        "material": plan.job.part.material,
        "sentence": {"before": before, "figure": figure, "after": after},
        "left": list(left_sentences(plan)),
        "steps_cost": _steps_cost(plan),
        "stations": plan.stations,
        "ridge_max": plan.prediction.ridge_max,
        "ridge_asked": plan.job.part.ridge,
        "figures": _figures(plan),
        "tools": [tool.name for tool in plan.tools],
        "box": box_of(plan),
        "scene": scene(cuts),
        "feet": feet(plan),
        "shapes": {str(i): _rounded(cuts.shapes[tool.name].tolist()) for i, tool in enumerate(plan.tools)},
        "moves": [_move(plan, move) for move in plan.moves],
        "sections": [asdict(section) for section in table.sections],
        "power": table.power,
        "setting_up": [asdict(item) for item in setting_up(plan).items],
    }


def _steps_cost(plan: Plan) -> str:
    """What equal steps of one slide cost, as the notes of the plan have it; empty where none are asked for."""
    told = [note_text(note, plan.job.units) for note in plan.notes if isinstance(note, EqualStepsNote)]
    return " ".join(told)


def _figures(plan: Plan) -> Mapping[str, str]:
    unit = plan.job.units
    digits = 3 if unit == "mm" else 4
    return {
        "moves": str(len(plan.moves)),
        "settings": str(plan.stations),
        "leaves": format_figure(plan.prediction.ridge_max, unit, digits),
    }


def _move(plan: Plan, move: Move) -> dict[str, Any]:
    """Where the tool goes, for the drawing to follow."""
    names = [tool.name for tool in plan.tools]
    return {
        "n": move.n,
        "tool": names.index(move.tool),
        "from": [round(move.start.x, 5), round(move.start.y, 5)],
        "to": [round(move.end.x, 5), round(move.end.y, 5)],
        "cuts": move.cuts,
        "station": move.station,
        "slide": move.slide,
        "stage": move.stage,
        "shown": move.shown,
        "toward": move.toward,
    }


def _rounded(points: list[list[float]]) -> list[list[float]]:
    return [[round(x, 5), round(y, 5)] for x, y in points]
