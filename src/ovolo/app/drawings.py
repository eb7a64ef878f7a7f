"""What the pages and the interface for scripts get drawn; the one place where they reach for drawings."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from ovolo.documents.plan_document import plan_as_json
from ovolo.documents.resolved import job_as_toml, unit_of
from ovolo.part.files import outline_csv, outline_dxf, outline_svg
from ovolo.plan.model import Plan
from ovolo.show.drawing import drawing_as_svg, drawing_view
from ovolo.show.gauge import gauge_as_pdf, gauge_view
from ovolo.show.pages.plan_further import plan_further
from ovolo.show.pages.plan_page import plan_page
from ovolo.show.sheet import sheet_as_pdf
from ovolo.show.table import moves_as_csv

__all__ = ["FILES", "plan_more", "plan_view"]


def plan_view(plan: Plan) -> dict[str, Any]:
    """All that the page Plan shows at once."""
    return plan_page(plan)


def plan_more(plan: Plan) -> dict[str, Any]:
    """What the page Plan shows a little later."""
    return plan_further(plan)


def _drawing(plan: Plan) -> str:
    return drawing_as_svg(drawing_view(plan))


FILES: dict[str, tuple[str, Callable[[Plan], str | bytes]]] = {
    "drawing.svg": ("image/svg+xml", _drawing),
    "sheet.pdf": ("application/pdf", sheet_as_pdf),
    "gauge.pdf": ("application/pdf", lambda plan: gauge_as_pdf(gauge_view(plan.job))),
    "plan.json": ("application/json", plan_as_json),
    "moves.csv": ("text/csv", moves_as_csv),
    "resolved.toml": ("application/toml", lambda plan: job_as_toml(plan.job)),
    "outline.svg": (
        "image/svg+xml",
        lambda plan: outline_svg(plan.job.part.outline, unit_of(plan.job), plan.job.title),
    ),
    "outline.dxf": ("image/vnd.dxf", lambda plan: outline_dxf(plan.job.part.outline, unit_of(plan.job))),
    "outline.csv": ("text/csv", lambda plan: outline_csv(plan.job.part.outline, unit_of(plan.job))),
}
"""What can be saved of a plan: the file's name -> its type and what writes it."""
