"""What the workers do: from what was sent to what a page shows; everything that takes long.

A task takes the body of its request (see `interface.TASKS`) and gives the bytes of its answer. It raises OvoloError
where the body is at fault.
"""

from __future__ import annotations

import base64
import json
import math
import tempfile
from collections.abc import Callable, Mapping
from dataclasses import asdict
from functools import lru_cache
from pathlib import Path
from typing import Any

from ovolo.app.catalogue import FORMS, MATERIALS, PACES
from ovolo.app.interface import TASKS as ENTRIES
from ovolo.app.openapi import description
from ovolo.app.run_page import run_page
from ovolo.check.checking import check, limits_of
from ovolo.check.measured import Circumstances
from ovolo.check.measuring import measuring_list
from ovolo.documents.check.readings import readings_from_text
from ovolo.documents.offers import cheaper, larger_bar, offers
from ovolo.documents.plan.document import plan_as_json
from ovolo.documents.plan.reading import plan_from_data, whole_plan
from ovolo.documents.reading import job_from_data
from ovolo.documents.starting import started, started_around, usual_curve
from ovolo.errors import CannotPlan, Fault, JobFaults
from ovolo.part.files import Asked, outline_points, read_drawing
from ovolo.part.forms.mending import diameters, fitted, mended
from ovolo.part.part import Surface
from ovolo.plan import previews
from ovolo.plan.model import Job, Plan
from ovolo.plan.planner import choose_tools, make_plan
from ovolo.plan.report.unreached import unreached
from ovolo.predict.forecast.outlook import forecast
from ovolo.predict.forecast.tradeoff import tradeoff
from ovolo.predict.methods.coarse import coarse
from ovolo.predict.methods.compare import MANY, compare
from ovolo.show.drawing.half_section import Area
from ovolo.show.drawing.methods_drawing import methods_drawing, panel_as_svg
from ovolo.show.drawing.strip import strip_as_svg, strip_view
from ovolo.show.drawing.understood import understood_as_svg
from ovolo.show.drawing.unreached import draw_unreached, unreached_view
from ovolo.show.formats import write
from ovolo.show.pages.check_page import check_page, measuring_page
from ovolo.show.pages.convention import work_out
from ovolo.show.pages.part_page import part_alone, part_page, part_sketch
from ovolo.show.pages.plan_further import plan_further as further
from ovolo.show.pages.plan_page import plan_page
from ovolo.show.pages.shop_page import shop_page
from ovolo.show.paper.cuts import Cuts
from ovolo.show.paper.svg import document
from ovolo.show.words.coarse import coarse_lines
from ovolo.show.words.methods import methods_view
from ovolo.show.words.tradeoff import tradeoff_view
from ovolo.units import Unit, from_mm, to_mm

__all__ = ["TASKS", "planned"]

Body = Mapping[str, Any]

STRIP_WIDE, STRIP_TALL = 122.0, 46.0
"""Size of the strip, mm."""


@lru_cache(maxsize=16)
def _planned(text: str) -> Plan:
    return make_plan(job_from_data(json.loads(text)))


def planned(job: Body) -> Plan:
    """The plan of a job; the last few are remembered."""
    return _planned(json.dumps(job, sort_keys=True))


def _json(data: object) -> bytes:
    return json.dumps(data, separators=(",", ":"), allow_nan=False).encode()


def _refuse(where: str, value: object, limit: str, says: str, remedy: str) -> JobFaults:
    return JobFaults([Fault(where, value, limit, says, remedy)])


def _job(body: Body) -> Job:
    """The job in a body that holds more than that."""
    job = body.get("job")
    if not isinstance(job, Mapping):
        raise _refuse("job", None, "an object", "there is no job", "Send one")
    return job_from_data(job)


def plan(job: Body) -> bytes:
    return plan_as_json(planned(job)).encode()


def plan_view(job: Body) -> bytes:
    return _viewed(json.dumps(job, sort_keys=True))


@lru_cache(maxsize=4)
def _viewed(text: str) -> bytes:
    """The page of a plan; who goes to another page and back, or reloads, has it at once."""
    return _json(plan_page(_planned(text)))


def plan_further(job: Body) -> bytes:
    """What the page Plan shows a little later."""
    made = planned(job)
    strip = strip_view(Cuts(made))
    picture = strip_as_svg(strip, STRIP_WIDE, STRIP_TALL, mode="page")
    return _json({**further(made), "strip": picture, "strip_says": strip.says})


def plan_worth(job: Body) -> bytes:
    made = planned(job)
    return _json({**asdict(tradeoff_view(made, tradeoff(made))), "coarse": _coarse(made)})


def _coarse(made: Plan) -> dict[str, Any]:
    """Coarse work: the ridge to plan with, in the unit of the job, and what to do; no ridge where no file belongs."""
    try:
        found = coarse(made)
    except CannotPlan as refused:
        return {"ridge": None, "says": [fault.says for fault in refused.faults]}
    digits = 3 if made.job.units == "mm" else 4
    ridge = math.ceil(from_mm(found.plan.job.part.ridge, made.job.units) * 10**digits - 1e-6) / 10**digits
    return {"ridge": ridge, "says": list(coarse_lines(found))}


def plan_methods(job: Body) -> bytes:
    made = planned(job)
    found = compare(made)
    view, drawn = methods_view(made, found), methods_drawing(made, found)
    pictures = [panel_as_svg(drawn, panel) for panel in drawn.panels]
    cards = [
        {**asdict(card), "shape": None, "picture": picture}
        for card, (picture, _) in zip(view.cards, pictures, strict=True)
    ]
    times = max(times for _, times in pictures)
    return _json({"unit": view.unit, "many": MANY, "sentences": view.sentences, "times": times, "cards": cards})


def plan_unreached(body: Body) -> bytes:
    """What no tool reaches; nothing of a job that is not well formed, or where tools are not in the way."""
    width, height = (_millimetres(body, name, 60, most) for name, most in (("width", 500), ("height", 400)))
    try:
        job = _job(body)
        found = unreached(job)
    except JobFaults:
        found = ()
    if not found:
        return _json({"picture": None})
    shown = unreached_view(job, found)
    drawn, scale = draw_unreached(shown, Area(1.0, 1.0, width - 2.0, height - 2.0), key="unreached")
    return _json(
        {
            "title": job.title,
            "instead": _said_of_tools(job),
            "picture": document(width, height, f"{job.title}: out of reach", " ".join(shown.said), drawn, ""),
            "box": [0.0, 0.0, width, height],
            "scale": scale,
            "says": list(shown.said),
        }
    )


def _said_of_tools(job: Job) -> list[str]:
    """The words of the faults that the drawing of a refusal says itself."""
    try:
        choose_tools(job, job.shop.tools)
    except CannotPlan as refused:
        return [fault.says for fault in refused.faults if fault.where.startswith("tool")]
    return []


def plan_helps(job: Body) -> bytes:
    """What may turn a refusal into a plan, each offer with the whole job that it makes; none is planned yet."""
    try:
        job_from_data(job)
        found = offers(job)
    except JobFaults as wrong:
        part = part_alone(job)
        found = [] if part is None else larger_bar(job, part, _unit(job), wrong.faults)
    return _json({"helps": [asdict(offer) for offer in found]})


def plan_cheaper(job: Body) -> bytes:
    """Changes that may save moves, each with the whole job that it makes; none is planned yet."""
    return _json({"helps": [asdict(offer) for offer in cheaper(job, job_from_data(job))]})


def plan_brief(job: Body) -> bytes:
    """What a plan takes, in moves and minutes, and nothing else of it."""
    made = planned(job)
    minutes = sum(forecast(made, runs=FEW_RUNS).times) / 60
    return _json({"moves": len(made.moves), "minutes": f"{minutes:.0f}"})


def _unit(body: Body) -> Unit:
    return "in" if body.get("units") == "in" else "mm"


FEW_RUNS = 100
"""Drawn runs where only the time is asked for."""


def _millimetres(body: Body, name: str, least: int, most: int) -> float:
    """A size of the body, kept within what can be drawn on."""
    value = body.get(name)
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise _refuse(name, value, f"{least} to {most} mm", "that is no size", "Send a number")
    return float(min(max(value, least), most))


def preview(body: Body) -> bytes:
    """Settings for another ridge, or as low a ridge as so many settings allow; not swept."""
    names = ("ridge", "stations", "near")
    ridge, stations, near = (None if body.get(name) is None else _wanted(body[name], name) for name in names)
    found = previews.preview(_job(body), ridge, None if stations is None else int(stations), near)
    if found is None:
        return _json({"stations": None, "ridge": None, "feet": []})
    feet = [[round(z, 4), round(r, 4)] for z, r in found.feet]
    return _json({"stations": found.stations, "ridge": found.ridge, "feet": feet})


def _wanted(value: object, name: str) -> float:
    whole = name == "stations"
    good = isinstance(value, int if whole else int | float) and not isinstance(value, bool)
    if not good or not 0 < value <= (400 if whole else 50):  # type: ignore[operator]
        limit = "a whole number, 1 to 400" if whole else "mm, more than 0 and at most 50"
        raise _refuse(name, value, limit, "no plan can be made for that", "Send another")
    return float(value)  # type: ignore[arg-type]


def trade(job: Body) -> bytes:
    return _json({"points": [[n, round(ridge, 6)] for n, ridge in previews.trade(job_from_data(job))]})


def part_view(job: Body) -> bytes:
    return _json(part_page(job))


def part_forms(body: Body) -> bytes:
    """The part with another list of forms: sizes follow their neighbours, and so does the curve where it was the usual.

    `from` says for each form where it stood in the list before; null where it is new.
    """
    job, forms, came = _table(body, "job"), body.get("forms"), body.get("from")
    if not (isinstance(forms, list) and isinstance(came, list) and len(forms) == len(came)):
        raise _refuse("forms", None, "two lists of one length", "there are no forms", "Send them, and where they stood")
    part, unit = dict(_table(job, "part")), _unit(job)
    mm = to_mm(1.0, unit)
    surface: Surface = "bore" if part.get("surface") == "bore" else "outside"
    ends = diameters(part.get("form") or [], mm, surface)
    width = _table(job, "stock").get("diameter")
    bar = float(width) if isinstance(width, int | float) and width > 0 else None
    stood = [ends[k] if isinstance(k, int) and 0 <= k < len(ends) else None for k in came]
    for i, form in enumerate(forms):
        if came[i] is None:
            before = next((d[1] for d in reversed(stood[:i]) if d), None)
            after = next((d[0] for d in stood[i + 1 :] if d), None)
            forms[i] = fitted(form, before, after or None, bar)
    made = mended(forms, mm, surface, {i: d[0] for i, d in enumerate(stood) if d and d[0]})
    return _json({"part": _curve_kept(part, made, unit)})


def _curve_kept(part: dict[str, Any], forms: list[dict[str, Any]], unit: Unit) -> dict[str, Any]:
    """The part with these forms, and with their usual curve where it had that of the forms before."""
    usual = [_usual_curve({**part, "form": each}, unit) for each in (part.get("form"), forms)]
    if usual[0] is None or part.get("curve") != usual[0]:
        return {**part, "form": forms}
    rest = {key: value for key, value in part.items() if key != "curve"}
    return {**rest, "form": forms, **({"curve": usual[1]} if usual[1] else {})}


def _usual_curve(part: Body, unit: Unit) -> list[float] | None:
    alone = part_alone({"units": unit, "part": {key: value for key, value in part.items() if key != "curve"}})
    return None if alone is None else [round(from_mm(z, unit), 4) for z in usual_curve(alone.outline)]


def shop_view(job: Body) -> bytes:
    return _json(shop_page(job))


def convention(body: Body) -> bytes:
    slide, wound = body.get("slide"), body.get("wound")
    if slide not in ("cross", "saddle", "top"):
        raise _refuse("slide", slide, "cross, saddle, top", "there is no such slide", "Name one of them")
    if wound not in ("away", "nearer"):
        raise _refuse("wound", wound, "away, nearer", "that is no direction", "Name one of them")
    return _json(asdict(work_out(slide, wound, *(body.get(name) for name in ("travel", "before", "after")))))


def drawing(body: Body) -> bytes:
    """What was understood of a drawing file: its name, its bytes in base64, and what else was said of it."""
    asked = {name: str(body[name]) for name in ("unit", "surface", "axis", "free_end") if body.get(name)}
    for name, known in _CHOICES.items():
        if name in asked and asked[name] not in known:
            raise _refuse(name, asked[name], ", ".join(known), "that is not known", "Send one of them")
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"drawing{Path(body['name']).suffix.lower()[:10]}"
        path.write_bytes(base64.b64decode(body["content"]))
        found = read_drawing(path, Asked(**asked))  # type: ignore[arg-type]
    return _json(
        {
            "outline": outline_points(found.outline, found.surface, found.unit),
            "unit": found.unit,
            "notes": list(found.notes),
            "picture": understood_as_svg(found, body["name"], found.unit),
        }
    )


_CHOICES = {"unit": ("mm", "in"), "surface": ("outside", "bore"), "free_end": ("right", "left", "top", "bottom")}


def check_list(job: Body) -> bytes:
    made = planned(job)
    return _json(measuring_page(made, measuring_list(made, limits_of(made))))


def check_view(body: Body) -> bytes:
    """What readings say: `readings` is their text, as in a file; `plan` instead of `job` for moves already made, as
    by a correction."""
    text = body.get("readings")
    if "job" in body and "plan" in body:
        raise _refuse("plan", None, "job or plan", "a job and a plan are both sent", "Send the one that was cut last")
    made = plan_from_data(dict(_table(body, "plan"))) if "plan" in body else planned(_table(body, "job"))
    if not isinstance(text, str):
        raise _refuse("readings", None, "text", "there are no readings", "Send them as the text of a file")
    how = {name: body.get(name, True) is not False for name in ("in_chuck", "tool_untouched", "cool")}
    return _json(check_page(check(made, readings_from_text(text, made.job, circumstances=Circumstances(**how)))))


def _table(body: Body, name: str) -> Body:
    found = body.get(name)
    if not isinstance(found, Mapping):
        raise _refuse(name, None, "an object", f"there is no {name}", "Send one")
    return found


def openapi(_: Body) -> bytes:
    return _json(description())


def sketch(job: Body) -> bytes:
    """A small picture of the part; empty where it can't be drawn."""
    return part_sketch(job).encode()


def catalogue(_: Body) -> bytes:
    return _json({"forms": FORMS, "materials": MATERIALS, "paces": PACES})


def usual(_: Body) -> bytes:
    return _json({unit: started("dome", unit=unit)["tool"] for unit in UNITS})


UNITS: tuple[Unit, ...] = ("mm", "in")


def begin(body: Body) -> bytes:
    """The document of a new job: from a form and some of its sizes, or around an outline from a drawing.

    `shop` holds the tables of a kept shop that counts in the same unit.
    """
    unit = _unit(body)
    shop = body.get("shop") if isinstance(body.get("shop"), Mapping) else None
    if "outline" in body:
        part = part_alone(
            {"units": unit, "part": {"outline": body["outline"], "surface": body.get("surface", "outside")}}
        )
        if part is None:
            raise _refuse("outline", None, "", "no part can be made of this outline", "Bring the drawing in again")
        document = started_around(part.outline, part.surface, unit, "From a drawing", shop=shop)
    else:
        sizes = body.get("sizes")
        told = {str(k): str(v) for k, v in sizes.items() if v not in (None, "")} if isinstance(sizes, Mapping) else {}
        document = started(str(body.get("form")), told, unit, shop)
    if document["part"].get("surface") == "bore" and not any(map(_bores, document["tool"])):
        usual = started("bell mouth", unit=unit)["tool"]
        document = {**document, "tool": [*document["tool"], *usual]}
    title = body.get("title")
    return _json({**document, **({"title": title.strip()} if isinstance(title, str) and title.strip() else {})})


def _bores(tool: Mapping[str, Any]) -> bool:
    """Whether a tool of a kept shop is one for holes, as far as its name and its bar say."""
    return "bar_diameter" in tool or "boring" in str(tool.get("name", "")).lower()


def file(job: Body, name: str) -> bytes:
    """A file of a job's plan, by its name in `show.formats`."""
    made = write(name, planned(job))
    return made if isinstance(made, bytes) else made.encode()


def run_plan(name: str, document: Body) -> bytes:
    """The plan that is taken to the lathe: that of a job, or the one sent, whole."""
    if name == "job":
        return plan(document)
    plan_from_data(document)
    return _json(whole_plan(document))


BESIDES = (file, sketch, begin, run_plan, run_page)
"""For what is kept: a file of a plan, a small picture of a part, a new job, a run."""

TASKS: dict[str, Callable[..., bytes]] = {
    **{entry.does: globals()[entry.does] for entry in ENTRIES},
    **{task.__name__: task for task in BESIDES},
}
"""The tasks by name."""
