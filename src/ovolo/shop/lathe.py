"""The lathe itself: its spindle speeds and motor, how it holds the work, and what its tools are made of."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Holding = Literal["chuck", "chuck and centre", "between centres"]
ToolMaterial = Literal["high-speed steel", "carbide"]

#: How far the jaws of a chuck are taken to project over the bar where it is not given, mm (common practice, no source).
JAWS = 10.0
Powered = Literal["saddle", "cross"]

#: What a change of tool takes where the post repeats [s] (common practice, no source).
REPEATED_CHANGE = 20.0


@dataclass(frozen=True)
class Cutter:
    """What a tool of the drawer is made of, and its boring bar where it has one.

    tool: its name. bar_diameter: of the bar [mm]; overhang: of the bar, from the holder to the nose [mm].
    least_cut: the thinnest layer that it cuts [mm], where the job gives it.
    """

    tool: str
    material: ToolMaterial = "high-speed steel"
    bar_diameter: float | None = None
    overhang: float | None = None
    least_cut: float | None = None

    @property
    def thinnest(self) -> float:
        """The thinnest layer that it still cuts rather than rubs over, mm (common practice, no source).

        >>> Cutter("knife").thinnest, Cutter("knife", "carbide").thinnest
        (0.03, 0.08)
        """
        usual = 0.03 if self.material == "high-speed steel" else 0.08
        return usual if self.least_cut is None else self.least_cut


@dataclass(frozen=True)
class Lathe:
    """What is known of the lathe; None or nothing where the job doesn't say.

    speeds: of the spindle [rev/min]. motor_w: power of the motor [W]. chuck_max_rpm: as marked on the chuck.
    centre_hole, centre_body: diameters of the mouth of the centre hole and of the centre behind its point of 60° [mm].
    jaws: how far the jaws of the chuck stand over the bar [mm].
    post: "repeats" where the tool post brings a tool back to where it was.
    stiffness: of the machine itself between tool and chuck, square to the axis, measured [N/mm].
    power_feed: the slides that the lathe itself can feed; a leadscrew drives the saddle of nearly every lathe.
    """

    speeds: tuple[float, ...] = ()
    motor_w: float | None = None
    chuck_max_rpm: float | None = None
    holding: Holding = "chuck"
    cutters: tuple[Cutter, ...] = ()
    centre_hole: float | None = None
    centre_body: float | None = None
    jaws: float | None = None
    post: Literal["repeats"] | None = None
    power_feed: tuple[Powered, ...] = ("saddle",)
    stiffness: float | None = None

    @property
    def jaws_stand(self) -> float:
        """How far the jaws are taken to stand over the bar, mm.

        >>> Lathe().jaws_stand, Lathe(jaws=6.0).jaws_stand
        (10.0, 6.0)
        """
        return JAWS if self.jaws is None else self.jaws

    def cutter(self, tool: str) -> Cutter:
        """What a tool is made of; high-speed steel where nothing is said.

        >>> Lathe(cutters=(Cutter("knife", "carbide"),)).cutter("knife").material
        'carbide'
        """
        return next((cutter for cutter in self.cutters if cutter.tool == tool), Cutter(tool))
