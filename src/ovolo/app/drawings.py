"""What the pages and the interface for scripts get drawn; the one place where they reach for drawings."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from ovolo.documents.plan_document import plan_as_json
from ovolo.documents.resolved import job_as_toml, unit_of
from ovolo.part.files import outline_csv, outline_dxf, outline_svg
from ovolo.plan.model import Plan
from ovolo.show.pages.plan_page import plan_page
from ovolo.show.table import moves_as_csv

__all__ = ["FILES", "plan_view"]


def plan_view(plan: Plan) -> dict[str, Any]:
    """All that the page Plan shows."""
    return plan_page(plan)


FILES: dict[str, tuple[str, Callable[[Plan], str]]] = {
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
