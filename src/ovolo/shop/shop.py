"""The shop: what there is to make the part with."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from ovolo.geometry.outline import Outline
from ovolo.shop.instruments import Instrument
from ovolo.shop.lathe import Lathe
from ovolo.shop.pace import Pace
from ovolo.shop.set_over import SetOver
from ovolo.shop.setting_errors import SettingErrors
from ovolo.shop.slides import EqualSteps, Slide, SlideName
from ovolo.shop.tools import Tool
from ovolo.units import INCH, Unit


@dataclass(frozen=True)
class Stock:
    """The piece in the chuck, mm: a bar of `radius`, with a hole of diameter `hole` (bore work), `proud` of z = 0.

    A piece already shaped has an `outline`, from its free end toward the chuck: its surface, or in a bore the wall of
    its hole. `radius` is then that of the bar behind, in a bore that of its outside, which is `assumed` where the job
    does not give it; `hole` is the one behind.
    """

    radius: float
    hole: float = 0.0
    proud: float = 0.0
    stick_out: float | None = None
    outline: Outline | None = None
    assumed: bool = field(default=False, compare=False)

    @property
    def front(self) -> float:
        """Its foremost place, z, mm."""
        return self.proud if self.outline is None else self.outline.bounds()[2]

    @property
    def widest(self) -> float:
        """Its greatest radius, mm."""
        return self.radius if self.outline is None else max(self.radius, self.outline.bounds()[3])


@dataclass(frozen=True)
class Shop:
    """Stock, drawer, slides, lathe and the limits that the operator sets; mm.

    `by` is how finishing is to be done where equal steps of one slide will do. `top` is the top slide where it moves
    the tool along the axis in finishing, the saddle staying put; without `saddle_moves` it does so in roughing too.
    `set_over` is the top slide at an angle, which finishes the cones that lean so. `pace` is the user's own. `bite` is
    the widest cut of a pass, `plunge` that of a plunge and of a finishing move (`limits` says what binds which tool).
    `errors` is what figures may be off by, `instruments` what there is to measure with.
    """

    stock: Stock
    tools: tuple[Tool, ...]
    cross: Slide
    saddle: Slide
    bite: float = 1.0
    allowance: float = 0.2
    unit: float = 1.0
    lathe: Lathe = field(default_factory=Lathe)
    by: EqualSteps | None = None
    top: Slide | None = None
    saddle_moves: bool = True
    pace: Pace = field(default_factory=Pace)
    set_over: SetOver | None = None
    plunge: float = 2.5
    errors: SettingErrors = field(default_factory=SettingErrors)
    instruments: tuple[Instrument, ...] = ()
    prefer: Literal["minutes", "moves"] = "minutes"

    @property
    def units(self) -> Unit:
        """The unit that its figures are in."""
        return "in" if self.unit == INCH else "mm"

    @property
    def fine(self) -> Slide:
        """The slide that moves the tool along the axis in finishing."""
        return self.saddle if self.top is None else self.top

    @property
    def coarse(self) -> Slide:
        """The slide that moves the tool along the axis in roughing."""
        return self.saddle if self.saddle_moves else self.fine

    def plunge_of(self, tool: Tool) -> float:
        """The widest plunge of a tool, mm: its own limit, the job's, and of a blade never more than its width."""
        return tool.edge.plunge(tool.plunge, self.plunge)

    def slide(self, name: SlideName) -> Slide:
        """One of the slides by its name."""
        top = self.fine if self.set_over is None else self.set_over.slide
        return {"cross": self.cross, "saddle": self.saddle, "top": top}[name]
