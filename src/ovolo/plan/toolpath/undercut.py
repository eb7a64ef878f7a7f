"""Working in a bay: roughed and finished from its mouth, in its own view, then turned back into moves of the lathe."""

from __future__ import annotations

import numpy as np

from ovolo.geometry.segments import Point
from ovolo.plan.stations.choose_tools import SideWork
from ovolo.plan.steps import Slack, Step, Walk
from ovolo.plan.sweep.height_field import Metal
from ovolo.plan.toolpath.finishing import Finisher
from ovolo.plan.toolpath.ground import CLEAR, Care
from ovolo.plan.toolpath.roughing import Rougher
from ovolo.plan.toolpath.thinning import layers
from ovolo.plan.view.frame import Frame
from ovolo.plan.view.undercut_frame import SideView, real_tool
from ovolo.shop.slides import SlideName
from ovolo.shop.tools import Tool

#: The side view's picture of the metal is this fine, mm.
PITCH = 0.01


class SideRougher(Rougher):
    """Roughs a bay from its mouth."""

    def __init__(self, view: SideView, tool: Tool, metal: Metal, care: Care) -> None:
        super().__init__(view, tool, metal, care)
        self.clear_y = view.top_for(tool)

    def rough(self, walk: Walk, *, pockets: bool = True) -> None:
        """Passes along the radius from the mouth inward, then straight in over what is left."""
        self.pockets = pockets
        for span in self._spans(self.clear_y, self.x[0], self.x[-1]):
            self._clear(walk, span, self.clear_y)
        self._lift(walk)
        self.across(walk)


def do_side(
    frame: Frame, work: SideWork, metal: Metal, care: Care, start: Point, number: int, slacks: tuple[Slack, Slack]
) -> tuple[list[Step], int]:
    """The moves of one tool in one bay, and the number of the next station.

    `start` is where the tool stands, above the work; there it is again when it is done. `slacks` are those of roughing
    and of finishing. The picture of the metal from above shows nothing of what lies under a lip, so it stays as it is.
    """
    view, tool, shop = work.view, work.tool, frame.job.shop
    walk = Walk(tool, *view.turned(start), slack=_turned(slacks[0]))
    home = walk.x
    rougher = SideRougher(view, tool, metal_from_side(view, tool, metal), care)
    walk.ceiling = rougher.clear_y + view.room_for(tool)
    walk.cross(rougher.clear_y)
    rougher.rough(walk)
    walk.stage, walk.slack = "finish", _turned(slacks[1])
    finisher = Finisher(view, walk, rougher.clear_y, number)
    for layer in layers(view, tool, rougher.metal, work.passes, care.cut * shop.bite):
        finisher.thin(layer)
    finisher.finish(work.passes, rougher.metal)
    walk.saddle(home)
    names: dict[str, SlideName] = {"rough": shop.coarse.name, "finish": shop.fine.name}
    steps = [_as_on_the_lathe(view, s, names[s.stage]) for s in walk.steps]
    return [steps[0]._replace(enters=True), *steps[1:]], finisher.number


def _turned(slack: Slack) -> Slack:
    return Slack(slack.saddle, slack.cross)


def _as_on_the_lathe(view: SideView, step: Step, along: SlideName) -> Step:
    """A move of the turned frame as the slide that makes it."""
    slide: SlideName = "cross" if step.slide == "saddle" else along
    start, end = view.back_from(step.start), view.back_from(step.end)
    return step._replace(tool=real_tool(step.tool), slide=slide, start=start, end=end)


def metal_from_side(view: SideView, tool: Tool, metal: Metal) -> Metal:
    """The metal as it is seen from the mouth of a bay: how far it comes out at each radius."""
    way, mouth = view.bay.way, view.top_for(tool)
    ys = _radii(view, tool)
    inward = metal.x * way <= mouth + 1e-9
    x, height = metal.x[inward], metal.height[inward]
    if way > 0:  # from the mouth into the bay
        x, height = x[::-1], height[::-1]
    level = np.abs(ys) if view.on_axis else ys  # beyond the axis stands the other half of the work
    met = np.searchsorted(np.maximum.accumulate(height), level + 1e-9, side="right")
    out = np.where(met < len(x), way * x[np.minimum(met, len(x) - 1)], view.base)
    turned = -way * ys
    order = np.argsort(turned)
    return Metal(turned[order], out[order], tool)


def _radii(view: SideView, tool: Tool) -> np.ndarray:
    """The radii that are looked at, evenly spaced: all of the bay and as far beside it as the tool can touch."""
    _, y = view.whole.chain.points(np.linspace(view.bay.begin, view.bay.end, 400))
    margin = 2 * tool.nose_radius + CLEAR
    low, high = float(y.min()) - margin, max(float(y.max()), view.whole.top) + margin + CLEAR
    pitch = max(PITCH, (high - low) / 3000)
    return np.asarray(low + pitch * np.arange(int((high - low) / pitch) + 1))
