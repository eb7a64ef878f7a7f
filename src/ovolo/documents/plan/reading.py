"""Reading a plan: from the data of a plan.json back to a `Plan`, or to every fault that it has.

The moves are taken as they are written; nothing is planned anew.
"""

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from pydantic import ValidationError

from ovolo.documents.faults import faults_of
from ovolo.documents.plan.document import checksum
from ovolo.documents.plan.model import PlanFile
from ovolo.documents.reading import job_from_data
from ovolo.errors import Fault, JobFaults
from ovolo.geometry.segments import Point
from ovolo.plan.model import Before, Job, Move, Plan, Prediction, Proof, Reading, Stand
from ovolo.plan.report.facts import AsWritten
from ovolo.shop.slides import Slide
from ovolo.tolerances import WRITTEN
from ovolo.units import INCH

__all__ = ["plan_from_data", "whole_plan"]

Data = Mapping[str, Any]

MOST_MOVES = 5000
"""No plan of ours has more by far."""

_NEAR = 2 * WRITTEN
"""Two places that were one before they were written are no farther apart, mm."""


def whole_plan(data: Data) -> dict[str, Any]:
    """The data of a plan with what may be left out filled in: unit, tools, notes, bites, and its own checksum."""
    moves, job = data.get("moves"), data.get("job")
    listed = moves if isinstance(moves, list) else []
    units = job.get("units", "mm") if isinstance(job, Mapping) else "mm"
    tools = [move["tool"] for move in listed if isinstance(move, Mapping) and isinstance(move.get("tool"), str)]
    rest = {"before": [], "notes": [], "units": units, "tools": list(dict.fromkeys(tools))}
    filled = [{"bite": 0.0, **move} if isinstance(move, Mapping) else move for move in listed]
    whole = {**rest, **data, "prediction": _prediction(data.get("prediction")), "moves": filled or moves}
    try:
        return {**whole, "checksum": checksum(whole)}
    except (TypeError, ValueError, OverflowError):
        return {**whole, "checksum": "00000000"}  # what it holds is no plan: that is said by its faults


def _prediction(data: Any) -> Any:
    return {"ridge_at": [0.0, 0.0], "ridges": [], **data} if isinstance(data, Mapping) else data


def plan_from_data(data: Data) -> Plan:
    """The plan in the data of a plan.json. Raises JobFaults with all that is wrong with it."""
    whole = whole_plan(data)
    try:
        PlanFile.model_validate(whole)
    except ValidationError as error:
        raise JobFaults(faults_of(error, PlanFile)) from None
    job = _job(whole)
    if found := list(_faults(whole, job)):
        raise JobFaults(found)
    names, prediction, proof = whole["tools"], whole["prediction"], whole["proof"]
    return Plan(
        job=job,
        tools=tuple(tool for name in names for tool in job.shop.tools if tool.name == name),
        moves=tuple(_move(move) for move in whole["moves"]),
        before=tuple(_before(before) for before in whole["before"]),
        stations=whole["stations"],
        fewest=whole["fewest"],
        proof=Proof(proof["fewer"], proof.get("leaves")),
        prediction=Prediction(
            prediction["ridge_max"],
            Point(*prediction["ridge_at"]),
            prediction["gouge_max"],
            tuple(Point(*place) for place in prediction["surface"]),
            tuple((Point(z, r), height) for z, r, height in prediction["ridges"]),
        ),
        notes=tuple(AsWritten(text) for text in whole["notes"]),
    )


def _before(data: Data) -> Before:
    shown, figures = data.get("shown") or {}, data.get("set") or {}
    readings = tuple(Reading(slide, figure, shown.get(slide, "")) for slide, figure in figures.items())
    stand = Stand(data.get("first") or "saddle", readings) if readings else None
    should = tuple(Reading(slide, figure, "") for slide, figure in (data.get("should") or {}).items())
    return Before(data["move"], data["kind"], data["text"], stand, should)


def _job(data: Data) -> Job:
    """The job of a plan: its lengths are in mm, its figures in the unit of the plan. Raises JobFaults."""
    try:
        job = job_from_data({**data["job"]})
    except JobFaults as wrong:
        raise JobFaults([replace(fault, where=f"job.{fault.where}") for fault in wrong.faults]) from None
    if data["units"] != "in":
        return job
    shop = job.shop
    cross, saddle = _in_inches(shop.cross), _in_inches(shop.saddle)
    top = None if shop.top is None else _in_inches(shop.top)
    over = None if shop.set_over is None else replace(shop.set_over, slide=_in_inches(shop.set_over.slide))
    return replace(job, shop=replace(shop, cross=cross, saddle=saddle, top=top, set_over=over, unit=INCH))


def _in_inches(slide: Slide) -> Slide:
    return replace(slide, unit=INCH)


def _move(data: Data) -> Move:
    start, end = (Point(float(z), float(r)) for z, r in (data["from"], data["to"]))
    named = {name: data[name] for name in ("n", "stage", "tool", "slide", "shown", "within", "cuts", "bite")}
    return Move(
        **named,
        start=start,
        end=end,
        figure=math.nan if data.get("set") is None else float(data["set"]),
        area=data["removes_mm2"],
        station=data.get("station"),
    )


def _faults(data: Data, job: Job) -> Iterator[Fault]:
    """What makes no plan of moves that are well formed each by itself."""
    moves = data["moves"]
    if not 1 <= len(moves) <= MOST_MOVES:
        yield Fault("moves", len(moves), f"1 to {MOST_MOVES}", "that is no plan to be led through", "Plan the job anew")
    known = {tool.name for tool in job.shop.tools}
    for i, move in enumerate(moves):
        yield from _move_faults(f"moves[{i}]", i + 1, move, known)
    for i, name in enumerate(data["tools"]):
        if name not in known:
            yield Fault(f"tools[{i}]", name, ", ".join(sorted(known)), "the job has no such tool", "Name one of them")
    for i, before in enumerate(data["before"]):
        if before["move"] > len(moves):
            yield Fault(f"before[{i}].move", before["move"], f"1 to {len(moves)}", "no such move", "Correct its number")
    last: dict[str, list[float]] = {}
    for i, move in enumerate(moves):
        start = last.get(move["tool"])
        if start is not None and math.dist(start, move["from"]) > _NEAR:
            says = "it does not start where the last move with this tool ended"
            yield Fault(f"moves[{i}].from", str(move["from"]), str(start), says, "Plan the job anew")
        last[move["tool"]] = move["to"]


def _move_faults(where: str, n: int, move: Data, tools: set[str]) -> Iterator[Fault]:
    if move["n"] != n:
        yield Fault(f"{where}.n", move["n"], str(n), "moves are numbered 1, 2, 3, …", "Number them so")
    if move["tool"] not in tools:
        yield Fault(f"{where}.tool", move["tool"], ", ".join(sorted(tools)), "the job has no such tool", "Name another")
    along, across = (abs(move["to"][i] - move["from"][i]) for i in (0, 1))
    moved = {"cross": across, "saddle": along}.get(move["slide"])
    if moved is not None and along + across - moved > _NEAR:
        yield Fault(f"{where}.to", str(move["to"]), "one slide", "it moves both slides", "Split it in two")
    if move.get("set") is None and move["slide"] in ("cross", "saddle"):
        yield Fault(f"{where}.set", None, "a figure", "it says no figure to stop at", "State it")
