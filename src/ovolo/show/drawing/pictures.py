"""Every picture of a plan by its name."""

from typing import Literal

from ovolo.errors import Fault, JobFaults
from ovolo.plan.model import Plan
from ovolo.show.drawing.close_up import close_up_as_svg, close_up_view
from ovolo.show.drawing.explain import explain_as_svg, explain_view
from ovolo.show.drawing.half_section import drawing_as_svg, drawing_view, station_move
from ovolo.show.drawing.settings_chart import settings_chart
from ovolo.show.drawing.strip import strip_as_svg, strip_view
from ovolo.show.paper.chart import chart_as_svg
from ovolo.show.paper.cuts import Cuts
from ovolo.show.paper.style import Mode

__all__ = ["PICTURES", "PictureName", "picture_as_svg"]

PictureName = Literal["drawing", "move", "left", "settings", "explained"]

PICTURES: dict[PictureName, str] = {
    "drawing": "the whole sheet",
    "move": "one move from near",
    "left": "what is left along the curve",
    "settings": "what more or fewer settings would leave",
    "explained": "how the stepping works, for teaching",
}
"""What each shows."""


def picture_as_svg(plan: Plan, name: PictureName = "drawing", *, mode: Mode = "paper", move: int | None = None) -> str:
    """A picture as SVG; `move` is the one that "move" shows, and after which "drawing" shows the metal.

    Raises JobFaults for a move that the plan doesn't have.
    """
    first = 0 if name == "drawing" else 1
    if move is not None and not first <= move <= len(plan.moves):
        limit = f"{first} to {len(plan.moves)}"
        raise JobFaults([Fault("--move", move, limit, "the plan has no such move", "Name one of its moves")])
    if name == "move":
        number = station_move(plan) if move is None else move
        return close_up_as_svg(close_up_view(Cuts(plan), number), mode=mode)
    if name == "left":
        return strip_as_svg(strip_view(Cuts(plan)), mode=mode)
    if name == "settings":
        return chart_as_svg(settings_chart(plan), mode=mode)
    if name == "explained":
        return explain_as_svg(explain_view(plan), mode=mode)
    return drawing_as_svg(drawing_view(plan, move), mode=mode)
