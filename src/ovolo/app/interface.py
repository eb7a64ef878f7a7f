"""The interface for scripts in one table: what can be asked, where, what it takes and what it gives.

The routes, the tasks of the workers and the description in OpenAPI all follow from it.
"""

from __future__ import annotations

from typing import Any, Literal, NamedTuple

from ovolo.app.names import KEPT, NAME

__all__ = ["AT_THE_LATHE", "CODES", "ON_THE_NETWORK", "TASKS", "TO_KEEP", "Data", "Entry", "ref"]

Data = dict[str, Any]


class Entry(NamedTuple):
    """One thing that can be asked.

    does: the function that does it, of `tasks` or of `keeping`; takes: the schema of the body, None where there is
    none; gives: that of the answer; more: what else can go wrong, besides faults in the body (422).
    """

    does: str
    method: Literal["GET", "POST", "PUT", "DELETE"]
    address: str
    says: str
    takes: Data | None
    gives: Data
    status: int = 200
    more: tuple[str, ...] = ()


CODES = {
    "404": "nothing is kept there",
    "409": "it was changed elsewhere; `current` is how it stands",
    "422": "what is wrong, all of it, field by field",
}


def ref(name: str) -> Data:
    """A schema by its name."""
    return {"$ref": f"#/components/schemas/{name}"}


def _object(needed: Data, **more: Data) -> Data:
    return {"type": "object", "required": list(needed), "properties": {**needed, **more}}


ANY: Data = {"type": "object"}
JOB, NUMBER, WHOLE, TEXT = ref("Job"), {"type": "number"}, {"type": "integer"}, {"type": "string"}
DRAWN = _object({"job": JOB, "width": NUMBER, "height": NUMBER})
UPLOAD = _object(
    {"file": {"type": "string", "format": "binary"}},
    unit={"enum": ["mm", "in"]},
    surface={"enum": ["outside", "bore"]},
    axis=TEXT,
    free_end={"enum": ["right", "left", "top", "bottom"]},
)
WOUND = _object(
    {
        "slide": {"enum": ["cross", "saddle", "top"]},
        "wound": {"enum": ["away", "nearer"]},
        **dict.fromkeys(("travel", "before", "after"), NUMBER),
    }
)
STARTED: Data = {
    "type": "object",
    "properties": {
        "form": TEXT,
        "sizes": {"type": "object", "additionalProperties": TEXT},
        "outline": {"type": "array", "items": ANY},
        "surface": {"enum": ["outside", "bore"]},
        "units": {"enum": ["mm", "in"]},
        "title": TEXT,
        "shop": {"type": "string", "description": "the id of a kept shop; the usual drawer without"},
        "once": {"type": "string", "description": "asked again with the same word it gives the same job"},
    },
}
CHANGED = _object({"job": JOB, "forms": {"type": "array", "items": ANY}, "from": {"type": "array", "items": {}}})
CHECKED = _object(
    {"readings": TEXT},
    job=JOB,
    plan=ref("Plan"),
    **{name: {"type": "boolean"} for name in ("in_chuck", "tool_untouched", "cool")},
)
_OUT_OF_REACH = "Drawing of what no tool reaches, at a size given in mm; no picture where something else is in the way"

TASKS: tuple[Entry, ...] = (
    Entry("plan", "POST", "/api/plan", "Plan a job; nothing is kept", JOB, ref("Plan")),
    Entry("plan_view", "POST", "/api/plan/view", "The same as the page Plan shows it", JOB, ANY),
    Entry(
        "plan_further", "POST", "/api/plan/further", "What else there is to say of it: time, loads, speeds", JOB, ANY
    ),
    Entry("plan_worth", "POST", "/api/plan/worth", "How many settings are worth it, tool by tool", JOB, ANY),
    Entry("plan_methods", "POST", "/api/plan/methods", "The ways to turn the curve, side by side", JOB, ANY),
    Entry("plan_unreached", "POST", "/api/plan/unreached", _OUT_OF_REACH, DRAWN, ANY),
    Entry("plan_helps", "POST", "/api/plan/helps", "What may turn a refusal into a plan, each as a job", JOB, ANY),
    Entry("plan_cheaper", "POST", "/api/plan/cheaper", "What may save moves, each as a job", JOB, ANY),
    Entry("plan_brief", "POST", "/api/plan/brief", "What a plan takes, in moves and minutes", JOB, ANY),
    Entry(
        "preview",
        "POST",
        "/api/preview",
        "Settings only, for another ridge or number",
        _object({"job": JOB}, ridge=NUMBER, stations=WHOLE, near=NUMBER),
        ANY,
    ),
    Entry("trade", "POST", "/api/trade", "What each number of settings leaves", JOB, ANY),
    Entry("part_view", "POST", "/api/part", "The part as it can be drawn, with its faults", JOB, ANY),
    Entry("part_forms", "POST", "/api/part/forms", "The part with forms put in, moved or taken out", CHANGED, ANY),
    Entry("shop_view", "POST", "/api/shop", "The tools as they can be drawn, with their faults", JOB, ANY),
    Entry(
        "convention", "POST", "/api/convention", "How a slide reads, from what happened when it was wound", WOUND, ANY
    ),
    Entry("drawing", "POST", "/api/drawing", "The outline in a drawing file", UPLOAD, ANY),
    Entry("catalogue", "GET", "/api/catalogue", "The forms with their fields, materials, paces", None, ANY),
    Entry("usual", "GET", "/api/usual", "The usual drawer of tools, in mm and in inches", None, ANY),
    Entry("check_list", "POST", "/api/check/list", "What to measure on the part that a job makes", JOB, ANY),
    Entry("check_view", "POST", "/api/check", "What readings say of a part", CHECKED, ANY),
    Entry("openapi", "GET", "/api/openapi.json", "This description", None, ANY),
)
"""What is done by a worker with what is sent; nothing is kept."""

QUICK = frozenset(
    {
        "part_view",
        "plan_cheaper",
        "shop_view",
        "convention",
        "preview",
        "openapi",
        "sketch",
        "usual",
        "begin",
        "catalogue",
    }
)
"""Tasks of a fraction of a second: they have a worker of their own, so that no plan holds them up."""

_ONE = f"/api/{KEPT}/{NAME}"
_REVISION = _object({"revision": WHOLE})
_LOST = ("404", "409")
_KEPT, _LIST = ref("Kept"), _object({"items": {"type": "array", "items": ANY}})

TO_KEEP: tuple[Entry, ...] = (
    Entry("listed", "GET", f"/api/{KEPT}", "Those kept, the one last changed first", None, _LIST),
    Entry(
        "add",
        "POST",
        f"/api/{KEPT}",
        "Keep a new one (JSON, or text of a job.toml as application/toml)",
        ANY,
        _KEPT,
        status=201,
    ),
    Entry("start", "POST", "/api/start", "Keep a new job, from a form or an outline", STARTED, _KEPT, 201, ("404",)),
    Entry("get", "GET", _ONE, "One as it stands", None, _KEPT, more=("404",)),
    Entry(
        "save", "PUT", _ONE, "Save a new version",
        _object({"revision": WHOLE, "document": ANY}, said=TEXT), _KEPT, more=_LOST,
    ),
    Entry("delete", "DELETE", _ONE, "Take it off the list; it can be brought back", None, _KEPT, more=("404",)),
    Entry("undo", "POST", f"{_ONE}/undo", "Show the version before", _REVISION, _KEPT, more=_LOST),
    Entry("redo", "POST", f"{_ONE}/redo", "Show the version after", _REVISION, _KEPT, more=_LOST),
    Entry(
        "restore", "POST", f"{_ONE}/restore", "Show an older version again",
        _object({"revision": WHOLE, "version": WHOLE}), _KEPT, more=_LOST,
    ),
    Entry("bring_back", "POST", f"{_ONE}/bring-back", "Put it back on the list", None, _KEPT, more=("404",)),
    Entry("copy", "POST", f"{_ONE}/copy", "Keep a copy", None, _KEPT, status=201, more=("404",)),
    Entry("history", "GET", f"{_ONE}/history", "Every version, the newest first", None, _LIST, more=("404",)),
    Entry("checks", "GET", f"/api/jobs/{NAME}/checks", "How its part was measured", None, _LIST, more=("404",)),
    Entry(
        "add_check", "POST", f"/api/jobs/{NAME}/checks", "Keep a measurement with the part",
        _object({"readings": TEXT, "verdict": TEXT, "says": TEXT}), _LIST, status=201, more=("404",),
    ),
    Entry("plan_of", "GET", f"/api/jobs/{NAME}/plan", "Its plan, as the page shows it", None, ANY, more=("404",)),
    Entry("thumbnail", "GET", f"/api/jobs/{NAME}/thumbnail", "Its part as a small picture", None, ANY, more=("404",)),
    Entry("file", "GET", f"/api/jobs/{NAME}/files/{{name}}", "A file made from it", None, ANY, more=("404",)),
)  # fmt: skip
"""What is kept, and what is made from it."""

_RUN = f"/api/runs/{NAME}"
_PLACE = _object({"run": TEXT, "ticks": {"type": "array", "items": ANY}, "place": WHOLE}, plan=ref("Plan"))
_TAKEN: Data = {"type": "object", "properties": {"job": JOB, "plan": ref("Plan")}}
_SHIFT = _object({"tool": TEXT, "slide": {"enum": ["cross", "saddle", "top"]}, "by": NUMBER})
_AGAIN: Data = {
    "type": "object",
    "properties": {
        "parts": {"type": ["integer", "null"], "description": "how many in all"},
        "every": {"type": "integer", "description": "1: each part is measured; 3: every third"},
        "minutes": {"type": "number", "description": "what this part took"},
        "rechucked": {"type": "boolean", "description": "whether the piece is clamped anew, so that its face is new"},
        "carried": {"type": "array", "items": _SHIFT, "description": "by how much figures stay shifted"},
    },
}

AT_THE_LATHE: tuple[Entry, ...] = (
    Entry(
        "take", "POST", "/api/runs", "Take a plan to the lathe: that of a job, or one made before",
        _TAKEN, _object({"run": TEXT, "page": TEXT}), status=201,
    ),
    Entry("runs", "GET", "/api/runs", "The last runs, the one last made first", None, _LIST),
    Entry("get_run", "GET", _RUN, "A run; with ?since=K only ticks after the first K", None, _PLACE, more=("404",)),
    Entry(
        "put_ticks", "PUT", f"{_RUN}/ticks", "Ticks of a run; when this answers, they are on the disk",
        {"type": "array", "items": ANY}, _PLACE, more=("404",),
    ),
    Entry(
        "again", "POST", f"{_RUN}/again", "The next of several equal parts: a run of the same plan",
        _AGAIN, _object({"run": TEXT, "page": TEXT}), status=201, more=("404",),
    ),
    Entry("run_times", "GET", f"{_RUN}/times.csv", "How long its moves took: move, seconds", None, ANY, more=("404",)),
    Entry("code", "GET", f"{_RUN}/code.svg", "The address of its page as a QR code", None, ANY, more=("404",)),
)  # fmt: skip
"""Runs at the lathe."""

_DEVICE = f"/api/devices/{NAME}"
_DEVICES = _object({"served": {"type": "boolean"}, "addresses": {"type": "array", "items": TEXT}}, items=_LIST)
_CODE = _object({"address": TEXT, "svg": TEXT, "until": TEXT})

ON_THE_NETWORK: tuple[Entry, ...] = (
    Entry(
        "pair", "POST", "/api/pair", "Be let in by a code, once; the answer sets a cookie", _object({"code": TEXT}),
        _object({"device": TEXT}), 201,
    ),
    Entry("devices", "GET", "/api/devices", "The paired devices, and guesses that were refused", None, _DEVICES),
    Entry(
        "new_code", "POST", "/api/pairing", "A code to pair a device with; run: where it then goes",
        _object({}, run=TEXT), _CODE, 201, ("404", "409"),
    ),
    Entry(
        "allow", "PUT", _DEVICE, "What a device sees: runs, or everything",
        _object({"everything": {"type": "boolean"}}), _DEVICES, more=("404",),
    ),
    Entry("strike_off", "DELETE", _DEVICE, "Strike a device off", None, _DEVICES, more=("404",)),
)  # fmt: skip
"""Who may look on; all but `pair` at this machine alone."""
