"""What the workers do: from a job as it was typed to what a page shows; everything that takes long.

A task takes JSON values and gives the bytes of its answer. It raises OvoloError where the job is at fault.
"""

from __future__ import annotations

import base64
import json
import tempfile
from collections.abc import Callable, Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

from ovolo.app import drawings, previews
from ovolo.documents.plan_document import plan_as_json
from ovolo.documents.reading import job_from_data
from ovolo.errors import JobFaults
from ovolo.part.files import Asked, outline_points, picture, read_drawing
from ovolo.plan.model import Plan
from ovolo.plan.planner import make_plan
from ovolo.show.pages.part_page import part_page
from ovolo.show.pages.shop_page import shop_page

__all__ = ["TASKS"]

Document = Mapping[str, Any]


@lru_cache(maxsize=16)
def _planned(text: str) -> Plan:
    return make_plan(job_from_data(json.loads(text)))


def planned(document: Document) -> Plan:
    """The plan of a job; the last few are remembered."""
    return _planned(json.dumps(document, sort_keys=True))


def _json(data: object) -> bytes:
    return json.dumps(data, separators=(",", ":"), allow_nan=False).encode()


def plan(document: Document) -> bytes:
    """plan.json."""
    return plan_as_json(planned(document)).encode()


def plan_view(document: Document) -> bytes:
    """What the page Plan shows."""
    return _json(drawings.plan_view(planned(document)))


def plan_more(document: Document) -> bytes:
    """What the page Plan shows a little later."""
    return _json(drawings.plan_more(planned(document)))


def plan_worth(document: Document) -> bytes:
    """How many settings are worth it."""
    return _json(drawings.plan_worth(planned(document)))


def plan_methods(document: Document) -> bytes:
    """The ways to turn the curve side by side."""
    return _json(drawings.plan_methods(planned(document)))


def plan_unreached(document: Document, width: float, height: float) -> bytes:
    """What no tool reaches, drawn on so many mm of screen; nothing of a job that is not well formed."""
    try:
        job = job_from_data(document)
    except JobFaults:
        return _json({"picture": None})
    return _json(drawings.plan_unreached(job, width, height))


def preview(document: Document, asked: Mapping[str, Any]) -> bytes:
    """Settings for another ridge, or as low a ridge as so many settings allow; not swept."""
    return _json(
        previews.preview(job_from_data(document), asked.get("ridge"), asked.get("stations"), asked.get("near"))
    )


def trade(document: Document) -> bytes:
    """The ridge that each number of settings leaves."""
    return _json(previews.trade(job_from_data(document)))


def part_view(document: Document) -> bytes:
    """What the page Part shows."""
    return _json(part_page(document))


def shop_view(document: Document) -> bytes:
    """What the page Shop shows."""
    return _json(shop_page(document))


def file(document: Document, name: str) -> bytes:
    """A file of those in `drawings.FILES`."""
    made = drawings.FILES[name][1](planned(document))
    return made if isinstance(made, bytes) else made.encode()


def drawing(name: str, content: str, asked: Mapping[str, Any]) -> bytes:
    """What was understood of a drawing file: `content` is its bytes in base64."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"drawing{Path(name).suffix.lower()[:10]}"
        path.write_bytes(base64.b64decode(content))
        found = read_drawing(path, Asked(**asked))
    return _json(
        {
            "outline": outline_points(found.outline, found.surface, found.unit),
            "unit": found.unit,
            "notes": list(found.notes),
            "picture": picture(found, name, found.unit),
        }
    )


TASKS: dict[str, Callable[..., bytes]] = {
    task.__name__: task
    for task in (
        plan,
        plan_view,
        plan_more,
        plan_worth,
        plan_methods,
        plan_unreached,
        preview,
        trade,
        part_view,
        shop_view,
        file,
        drawing,
    )
}
"""The tasks by name."""
