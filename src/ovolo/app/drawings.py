"""What the pages and the interface for scripts get drawn; the one place where they reach for drawings."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import asdict
from typing import Any

from ovolo.documents.plan_document import plan_as_json
from ovolo.documents.resolved import job_as_toml, unit_of
from ovolo.part.files import outline_csv, outline_dxf, outline_svg
from ovolo.plan.model import Job, Plan
from ovolo.plan.report.unreached import unreached
from ovolo.predict.forecast.tradeoff import tradeoff
from ovolo.predict.methods.compare import MANY, compare
from ovolo.show.animation.page import animation_as_html, animation_view
from ovolo.show.drawing.half_section import Area
from ovolo.show.drawing.pictures import PictureName, picture_as_svg
from ovolo.show.drawing.strip import strip_as_svg, strip_view
from ovolo.show.drawing.unreached import draw_unreached, unreached_view
from ovolo.show.gauge.template import gauge_as_pdf, gauge_view
from ovolo.show.pages.method_picture import shape_picture
from ovolo.show.pages.plan_further import plan_further
from ovolo.show.pages.plan_page import plan_page
from ovolo.show.paper.cuts import Cuts
from ovolo.show.paper.style import style
from ovolo.show.paper.svg import document
from ovolo.show.sheet.sheet import sheet_as_pdf
from ovolo.show.words.methods import methods_view
from ovolo.show.words.table import moves_as_csv
from ovolo.show.words.tradeoff import tradeoff_view

__all__ = ["FILES", "plan_methods", "plan_more", "plan_unreached", "plan_view", "plan_worth", "stylesheet"]


def plan_view(plan: Plan) -> dict[str, Any]:
    """All that the page Plan shows at once."""
    return plan_page(plan)


def plan_more(plan: Plan) -> dict[str, Any]:
    """What the page Plan shows a little later."""
    strip = strip_view(Cuts(plan))
    picture = strip_as_svg(strip, STRIP_WIDE, STRIP_TALL, mode="page")
    return {**plan_further(plan), "strip": without_style(picture), "strip_says": strip.says}


def plan_worth(plan: Plan) -> dict[str, Any]:
    """How many settings are worth it, when somebody asks."""
    return asdict(tradeoff_view(plan, tradeoff(plan)))


def plan_methods(plan: Plan) -> dict[str, Any]:
    """The ways to turn the curve side by side, when somebody asks."""
    view = methods_view(plan, compare(plan))
    cards = [{**asdict(card), "shape": None, "picture": shape_picture(view, card)} for card in view.cards]
    return {"unit": view.unit, "many": MANY, "sentences": list(view.sentences), "cards": cards}


def plan_unreached(job: Job, width: float, height: float) -> dict[str, Any]:
    """What the page Plan draws of a refusal, on so many mm of screen; no picture where tools are not in the way."""
    found = unreached(job)
    if not found:
        return {"picture": None}
    shown = unreached_view(job, found)
    body, scale = draw_unreached(shown, Area(1.0, 1.0, width - 2.0, height - 2.0), key="unreached")
    picture = document(width, height, f"{job.title}: out of reach", " ".join(shown.said), body, "")
    return {
        "title": job.title,
        "picture": without_style(picture),
        "box": [0.0, 0.0, width, height],
        "scale": scale,
        "says": list(shown.said),
    }


STRIP_WIDE, STRIP_TALL = 122.0, 46.0
"""Size of the strip, mm."""

_STYLE = re.compile(r"<style>.*?</style>\n?", re.DOTALL)


def without_style(picture: str) -> str:
    """A drawing as it is set into a page: what its classes mean stands in `stylesheet`, for a page takes no other."""
    return _STYLE.sub("", picture)


def stylesheet() -> str:
    """What the classes of drawings mean on a page: the page's own colours."""
    return style("page")


def _animation(plan: Plan) -> str:
    return animation_as_html(animation_view(plan))


def _picture(name: PictureName) -> Callable[[Plan], str]:
    return lambda plan: picture_as_svg(plan, name)


FILES: dict[str, tuple[str, Callable[[Plan], str | bytes]]] = {
    "drawing.svg": ("image/svg+xml", _picture("drawing")),
    "left.svg": ("image/svg+xml", _picture("left")),
    "settings.svg": ("image/svg+xml", _picture("settings")),
    "explained.svg": ("image/svg+xml", _picture("explained")),
    "cut.html": ("text/html", _animation),
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
