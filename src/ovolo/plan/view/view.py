"""What planning asks of the place that it works in: the whole job as a frame, or one bay of it seen from its mouth."""

from __future__ import annotations

from typing import Protocol

import numpy as np

from ovolo.geometry.chain import Chain, Floats
from ovolo.plan.job import Job
from ovolo.plan.view.contact_line import ContactLine
from ovolo.plan.view.lattice import Lattice
from ovolo.shop.tools import Tool


class View(Protocol):
    """Air above, metal below: x along the way on which the tool is fed level, y the way in which it is drawn out; mm.

    Whoever takes a view works in a bay as well as on the whole outline; what only the whole job has (its end face, its
    bar, the figures of its slides) is a `Frame`'s.
    """

    @property
    def job(self) -> Job:
        """What is planned."""

    @property
    def sign(self) -> int:
        """1 for outside work, -1 in a bore."""

    @property
    def chain(self) -> Chain:
        """The outline."""

    @property
    def stretch(self) -> tuple[float, float]:
        """What of it is finished, as a range of the chain's `u`."""

    @property
    def base(self) -> float:
        """Where the metal ends below."""

    @property
    def front(self) -> float:
        """Where it ends toward greater x."""

    @property
    def top(self) -> float:
        """Its highest place before anything is cut."""

    @property
    def clear_of(self) -> float:
        """The height over which nothing stands."""

    @property
    def on_axis(self) -> bool:
        """Whether the outline begins on the axis of the work."""

    def deepest(self, tool: Tool) -> float:
        """The least y that a nose centre has any business at."""

    def lattice(self, tool: Tool) -> Lattice:
        """The nose centres that the slides can be set to in finishing."""

    def coarse_lattice(self, tool: Tool) -> Lattice:
        """The same in roughing."""

    def round_lattice(self, tool: Tool) -> Lattice:
        """Those of round figures."""

    def height(self, x: Floats, tool: Tool, spare: float = 0.0) -> Floats:
        """Least height of the nose centre at each x (rising, even, close), `spare` clear of the part."""

    def contact_line(self, tool: Tool, spare: float = 0.0) -> ContactLine:
        """The same at the columns of the lattice and close places between them."""

    def admits(self, tool: Tool, x: float) -> bool:
        """Whether the nose may be at x, high enough."""

    def this_half(self, x: Floats) -> np.ndarray:
        """Which of these x lie on this half of the work."""

    def axis_settings(self, tool: Tool, x: Floats, y: Floats) -> np.ndarray:
        """Which of these nose centres are as near the axis of the work as the grid allows."""
