"""The plan as a document: plan.json, and the checksum by which a printed sheet knows its plan.

Positions are given to 1e-5 mm; `set` is in the job's units (`units` in the plan says which), all other lengths in mm.
"""

import hashlib
import json
import math
from collections.abc import Mapping
from typing import Any

from ovolo.documents.plan.words import notes_of
from ovolo.documents.resolved import job_as_data
from ovolo.geometry.segments import Point
from ovolo.plan.model import Before, Move, Plan, Prediction
from ovolo.predict.loads.load import NOTHING, Loads, MoveLoad, loads
from ovolo.predict.loads.power_feed import FeedOff, feed_offs
from ovolo.predict.loads.spindle import Turning, feed_of, hand_turns
from ovolo.setup.measuring import ahead_of
from ovolo.shop.slides import Slide
from ovolo.units import Unit, from_mm

__all__ = ["canonical", "checksum", "plan_as_data", "plan_as_json"]

Data = dict[str, Any]

_NANOMETRE = 6
"""Decimals of a mm that a checksum looks at."""


def plan_as_data(plan: Plan) -> Data:
    """The plan in the shape of plan.json, its checksum included."""
    found, offs = loads(plan), feed_offs(plan)
    data: Data = {
        "format": "ovolo-plan",
        "version": 1,
        "units": plan.job.units,
        "job": job_as_data(plan.job),
        "tools": [tool.name for tool in plan.tools],
        "before": [_ahead(before) for before in _before(plan, found)],
        "moves": [_move(move, found, offs.get(move.n)) for move in plan.moves],
        "stations": plan.stations,
        "fewest": plan.fewest,
        "proof": {
            "fewer": plan.proof.fewer,
            "leaves": None if plan.proof.leaves is None else rounded(plan.proof.leaves, 6),
        },
        "prediction": _prediction(plan.prediction),
        "notes": list(notes_of(plan)),
    }
    return {**data, "checksum": checksum(data)}


def plan_as_json(plan: Plan) -> str:
    """The text of plan.json: one move a line, so that two plans can be compared line by line."""
    parts = [f"{json.dumps(key)}: {_json(key, value)}" for key, value in plan_as_data(plan).items()]
    return "{\n" + ",\n".join(parts) + "\n}\n"


def checksum(data: Mapping[str, Any]) -> str:
    """Eight hexadecimal digits that change with anything in the plan larger than a nanometre.

    SHA-256 (FIPS 180-4) over the canonical JSON of the plan, its own checksum aside.

    >>> checksum({"a": 1.0, "b": -0.0}) == checksum({"b": 0, "a": 1.0000000001, "checksum": "?"})
    True
    """
    return hashlib.sha256(canonical(data).encode()).hexdigest()[:8]


def canonical(data: Mapping[str, Any]) -> str:
    """The one JSON text for a plan: keys sorted, no spaces, numbers rounded to 1 nm."""
    bare = {key: _level(value) for key, value in data.items() if key != "checksum"}
    return json.dumps(bare, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)


def rounded(value: float, decimals: int) -> float:
    """The value, in any unit, to a number of decimals; never a negative zero.

    >>> rounded(-0.000001, 5)
    0.0
    """
    return round(value, decimals) + 0.0


def _level(value: object) -> object:
    """Numbers to a nanometre, whole ones as whole numbers: 1.0 and 1 are the same plan."""
    if isinstance(value, float):
        near = rounded(value, _NANOMETRE)
        return int(near) if near == int(near) else near
    if isinstance(value, Mapping):
        return {key: _level(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_level(item) for item in value]
    return value


def _before(plan: Plan, found: Loads) -> list[Before]:
    """What has to happen ahead of moves, with the speed for each tool's first roughing and first finishing move.

    Speeds are a prediction, not the planner's doing: they are added here, and only where the job names a material.
    """
    speeds = [_speed(plan, run) for run in found.turnings]
    return sorted([*ahead_of(plan), *speeds], key=lambda before: (before.move, before.kind == "stand"))


def _ahead(before: Before) -> Data:
    data: Data = {"move": before.move, "kind": before.kind, "text": before.text}
    if before.stand is not None:
        readings = before.stand.readings
        data["set"] = {reading.slide: reading.figure + 0.0 for reading in readings}
        data["shown"] = {reading.slide: reading.shown for reading in readings}
        data["first"] = before.stand.first
    if before.should:
        data["should"] = {reading.slide: reading.figure + 0.0 for reading in before.should}
    return data


def _speed(plan: Plan, run: Turning) -> Before:
    shop, unit = plan.job.shop, plan.job.units
    first = next(move for move in plan.moves if (move.stage, move.tool) == (run.stage, run.tool))
    along = shop.coarse if run.stage == "rough" else shop.fine
    wound = " and ".join(_wound(run, slide, unit) for slide in (shop.cross, along))
    text = (
        f"Spindle at {run.rpm:.0f} rev/min, never faster than chuck and lathe are marked for; under a cut wind {wound}"
    )
    return Before(first.n, "speed", text)


def _wound(run: Turning, slide: Slide, unit: Unit) -> str:
    """The feed by hand: turns/min where a turn of the handwheel is known, else travel."""
    name = "the saddle" if slide.name == "saddle" else f"the {slide.name} slide"
    turns = hand_turns(run, slide)
    if turns is not None:
        return f"{name} about {_about(turns)} turns/min"
    return f"{name} about {_about(from_mm(feed_of(run, slide) * run.rpm, unit))} {unit} a minute"


def _about(value: float) -> str:
    """To two figures, without an exponent."""
    return f"{float(f'{value:.2g}'):g}"


def _move(move: Move, found: Loads, off: FeedOff | None) -> Data:
    data: Data = {
        "n": move.n,
        "stage": move.stage,
        "tool": move.tool,
        "slide": move.slide,
        "from": _place(move.start),
        "to": _place(move.end),
        "cuts": move.cuts,
        "set": move.figure + 0.0,
        "shown": move.shown,
        "within": _down(move.within),
        "removes_mm2": rounded(move.area, 4),
        "bite": rounded(move.bite, 4),
    }
    if move.cuts and found.moves:
        data |= _load(found.of(move.n) or NOTHING)
    if move.station is not None:
        data["station"] = move.station
    if off is not None:
        data["feed_off"] = {"set": off.figure, "shown": off.shown, "by_hand": rounded(off.by_hand, 4)}
    return data


def _load(load: MoveLoad) -> Data:
    """Force, power and bending; no bending where the job leaves it open, nothing for a cut too thin to be felt."""
    data = {"force_n": rounded(load.force, 0), "power_w": rounded(load.power, 0)}
    return data if load.bends is None else {**data, "bends_mm": rounded(load.bends, 5)}


def _down(within: float) -> float:
    """What a setting may be off, never rounded up."""
    return math.floor(within * 1e4 + 1e-6) / 1e4 + 0.0


def _place(point: Point) -> list[float]:
    return [rounded(point.x, 5), rounded(point.y, 5)]


def _prediction(prediction: Prediction) -> Data:
    return {
        "ridge_max": rounded(prediction.ridge_max, 5),
        "ridge_at": _place(prediction.ridge_at),
        "gouge_max": rounded(prediction.gouge_max, 5),
        "ridges": [[*_place(foot), rounded(height, 5)] for foot, height in prediction.ridges],
        "surface": [_place(point) for point in prediction.surface],
    }


def _json(key: str, value: object) -> str:
    if key in ("moves", "before") and isinstance(value, list) and value:
        return "[\n" + ",\n".join(f"  {_compact(item)}" for item in value) + "\n]"
    return _compact(value)


def _compact(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False)
