"""Ovolo plans, predicts, guides and checks the turning of curved profiles on a manual lathe.

A job goes in, a plan of single-slide moves comes out, the plan's own sweep says what will be left on the part, and what
is measured afterwards corrects the next cut::

    job.toml -> documents -> Part + Shop = Job -> plan -> predict -> show, store -> app, cli
                                                   |                   |
                                                   +-> setup, check ---+

The rooms, in the order in which data passes through them; a room imports only from rooms before it:

==============  =======================================================================================================
``errors``      what can go wrong, one small tree; ``units``: the only place with inches and degrees
``geometry``    lines, arcs, outlines, contact of a nose with them; no word of a workshop
``part``        what to make: forms, drawings, tolerances. ``shop``: what there is to make it with
``cutting``     formulas of the trade: speed, force, bending, roughness, pace, uncertainty; nothing of a plan
``plan``        how: reach, stations, toolpath, sweep -> a `Plan`, its moves swept before anyone sees them
``predict``     what will come out: loads, scatter, time; other methods beside it
``setup``       what is done before a move: touching off, stops, what to measure. ``check``: what came out
``documents``   the files that people write and read: job, plan, readings
``show``        words, drawings, sheet, gauge, pages: each from one view model. ``store``: what is kept
``app``         the web pages. ``cli``: the commands
==============  =======================================================================================================

Inside, lengths are millimetres and angles radians. For scripts these names do the whole job; each is loaded when it is
first used, so that ``import ovolo`` costs nothing::

    plan = ovolo.make_plan(ovolo.read_job("job.toml"))
    plan.moves, plan.prediction, ovolo.forecast(plan), ovolo.compare_methods(plan)
    ovolo.draw(plan), ovolo.write("sheet.pdf", plan)
    ovolo.check_part(plan, ovolo.read_readings("readings.csv", plan.job))
"""

from importlib import import_module
from typing import TYPE_CHECKING

from ovolo.errors import FaultsFound, OvoloError

if TYPE_CHECKING:
    from ovolo.check.checking import check as check_part
    from ovolo.documents.check.readings import read_readings
    from ovolo.documents.reading import job_from_data, read_job
    from ovolo.plan.planner import make_plan
    from ovolo.predict.forecast.outlook import forecast
    from ovolo.predict.forecast.tradeoff import tradeoff
    from ovolo.predict.methods.compare import compare as compare_methods
    from ovolo.show.drawing.pictures import picture_as_svg as draw
    from ovolo.show.formats import write

__all__ = [
    "FaultsFound",
    "OvoloError",
    "check_part",
    "compare_methods",
    "draw",
    "forecast",
    "job_from_data",
    "make_plan",
    "read_job",
    "read_readings",
    "tradeoff",
    "write",
]

_WHERE = {
    "check_part": "check.checking:check",
    "compare_methods": "predict.methods.compare:compare",
    "draw": "show.drawing.pictures:picture_as_svg",
    "forecast": "predict.forecast.outlook:forecast",
    "job_from_data": "documents.reading:job_from_data",
    "make_plan": "plan.planner:make_plan",
    "read_job": "documents.reading:read_job",
    "read_readings": "documents.check.readings:read_readings",
    "tradeoff": "predict.forecast.tradeoff:tradeoff",
    "write": "show.formats:write",
}
"""What is loaded when it is first used: the module and its name there."""


def __getattr__(name: str) -> object:
    if name not in _WHERE:
        raise AttributeError(f"module 'ovolo' has no attribute {name!r}")
    module, there = _WHERE[name].split(":")
    found = globals()[name] = getattr(import_module(f"ovolo.{module}"), there)
    return found


def __dir__() -> list[str]:
    return sorted(__all__)
