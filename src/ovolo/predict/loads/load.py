"""Load of every cutting move: chip, force, power and bending, and what to do where it is too much.

Lengths in mm, force in N, power in W. The metal is that which the plan really takes (`engaged`), the force Kienzle's,
the bending that of the bar as it stands just then. Published force constants differ by 25 %, a hand's feed by more:
take these figures as sizes. Left out: the push along the axis (it bends the bar too, the less the nearer it acts to the
axis), the force along the speed, which bends the work downward and changes its size only in second order, and the give
of the chuck.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal, NamedTuple

from ovolo.cutting.bending import (
    BAR_OVERHANG_LIMIT,
    OVERHANG_LIMIT,
    Support,
    bar_bends,
    boring_bar_bends,
    overhang_ratio,
)
from ovolo.cutting.force import (
    MOST_SLENDER,
    Chip,
    cut_load,
    cutting_speed,
    slenderness,
    thinnest_chip,
    thrust,
)
from ovolo.cutting.materials import BAR_STIFFNESS, Material
from ovolo.plan.model import Move, Plan
from ovolo.predict.loads.engaged import Engaged, engaged
from ovolo.predict.loads.spindle import Turning, feed_of, material_of, turning_of, turnings
from ovolo.shop.lathe import Holding

__all__ = [
    "BENDING_SHARE",
    "DRIVE",
    "EDGE_RADIUS",
    "LONG_EDGE",
    "NOTHING",
    "Kind",
    "Loads",
    "MoveLoad",
    "Overload",
    "gives_way",
    "loads",
    "overloads",
]

DRIVE = 0.75
"""Share of the motor's power that reaches the edge (common practice, no source)."""

BENDING_SHARE = 0.25
"""Bending of a finishing move up to this share of the ridge specified is let pass (our choice)."""

EDGE_RADIUS = {"high-speed steel": 0.008, "carbide": 0.03}
"""Radius of the cutting edge itself, as honed or coated [mm] (common practice, no source)."""

LONG_EDGE = 1.0
"""An edge shorter than this in the metal is not apt to chatter, however thin its chip (our estimate) [mm]."""

_SUPPORTS: dict[Holding, Support] = {
    "chuck": "chuck",
    "chuck and centre": "chuck and tailstock",
    "between centres": "between centres",
}

Kind = Literal["overhang", "bar", "motor", "bending", "chatter", "thin"]


class MoveLoad(NamedTuple):
    """Load of one cutting move where it is heaviest.

    chip: width along the edge and mean thickness [mm]. force: along the speed [N]; power: at the edge [W].
    guess: whether the chip is thinner than the force law was fitted for.
    bends: deflection of work and boring bar, square to the axis [mm]; None where that is not known.
    rpm: of the spindle [rev/min]; feed [mm a turn]; length: of the slide's way that cuts [mm].
    """

    n: int
    chip: Chip
    force: float
    power: float
    guess: bool
    bends: float | None
    rpm: float
    feed: float
    length: float


NOTHING = MoveLoad(0, Chip(0.0, 0.0), 0.0, 0.0, True, 0.0, 0.0, 0.0, 0.0)
"""The load of a cut too thin to be seen."""


class Overload(NamedTuple):
    """Something that is too much (or too little) on some moves, and what to do about it."""

    kind: Kind
    moves: tuple[int, ...]
    says: str
    remedy: str


@dataclass(frozen=True)
class Loads:
    """The loads of a plan; `missing` says what is not known, and then what that leaves open."""

    turnings: tuple[Turning, ...]
    moves: tuple[MoveLoad, ...]
    overloads: tuple[Overload, ...]
    missing: tuple[str, ...] = ()

    def of(self, n: int) -> MoveLoad | None:
        """The load of a move by its number; None where it takes nothing worth speaking of.

        >>> Loads((), (), ()).of(3) is None
        True
        """
        return self._by_number.get(n)

    @cached_property
    def _by_number(self) -> dict[int, MoveLoad]:
        return {load.n: load for load in self.moves}


def loads(plan: Plan) -> Loads:
    """Load of every cutting move of a plan, and what to do where it is too much.

    Without a material in the job there are no forces, and `missing` says so; without a stick-out no bending.
    """
    cuts = engaged(plan)
    row = material_of(plan)
    if row is None:
        return Loads((), (), _overhang(plan), ("The job names no material (part.material): no force is known.",))
    runs = turnings(plan, cuts)
    by_number = {move.n: move for move in plan.moves}
    found = tuple(_load(plan, row, cut, by_number[cut.n], runs) for cut in cuts)
    return Loads(runs, found, overloads(plan, found), tuple(_missing(plan, row)))


def _load(plan: Plan, row: Material, cut: Engaged, move: Move, runs: Sequence[Turning]) -> MoveLoad:
    turning = turning_of(runs, move)
    assert turning is not None  # every cut belongs to a tool and a stage that cuts
    slide = plan.job.shop.slide(move.slide)
    feed = feed_of(turning, slide)
    chip = Chip(cut.edge, feed * cut.across / cut.edge)
    load = cut_load(chip, row.force.k11, row.force.m, cutting_speed(turning.rpm, cut.diameter))
    push = thrust(load.force) * cut.radial
    bends = _bends(plan, row, cut, push, move.tool)
    return MoveLoad(move.n, chip, load.force, load.power, load.guess, bends, turning.rpm, feed, cut.length)


def _bends(plan: Plan, row: Material, cut: Engaged, push: float, tool: str) -> float | None:
    """Work, boring bar and, where it was measured, the machine itself; None where work or boring bar isn't known."""
    work = gives_way(plan, row, cut)
    if work is None:
        return None
    machine = 0.0 if plan.job.shop.lathe.stiffness is None else 1.0 / plan.job.shop.lathe.stiffness
    if plan.job.part.surface == "outside":
        return push * (work + machine)
    bar, steel = _boring_bar(plan, tool), BAR_STIFFNESS["steel"].n_per_mm2
    return None if bar is None else push * (work + machine) + boring_bar_bends(push, *bar, steel)


def gives_way(plan: Plan, row: Material, cut: Engaged) -> float | None:
    """How far the work bends for one newton square to the axis at a cut [mm/N]; None where its length isn't known."""
    if not cut.bar:
        return None
    support = _SUPPORTS[plan.job.shop.lathe.holding]
    return bar_bends(1.0, cut.at, cut.bar, row.stiffness.n_per_mm2, support)


def _boring_bar(plan: Plan, tool: str) -> tuple[float, float] | None:
    """Overhang and diameter of a tool's boring bar [mm], where both are known."""
    cutter = plan.job.shop.lathe.cutter(tool)
    if cutter.bar_diameter is None or cutter.overhang is None:
        return None
    return cutter.overhang, cutter.bar_diameter


def _missing(plan: Plan, row: Material) -> list[str]:
    out = []
    if plan.job.shop.stock.stick_out is None:
        out.append("The job doesn't give the stick-out of the bar (stock.stick_out): its deflection is not known.")
    bars = [_boring_bar(plan, tool.name) for tool in plan.tools]
    if plan.job.part.surface == "bore" and None in bars:
        out.append("The job doesn't give bar_diameter and overhang of every boring tool: its deflection is not known.")
    if row.thinnest.advice:
        out.append(f"{row.name[:1].upper()}{row.name[1:]}: {row.thinnest.advice[:1].lower()}{row.thinnest.advice[1:]}.")
    return out


def overloads(plan: Plan, found: Sequence[MoveLoad]) -> tuple[Overload, ...]:
    """What is too much on which moves, each with a remedy."""
    checks = (_motor(plan, found), _bending(plan, found), _chatter(found), _thin(plan, found), _long_bar(plan))
    return (*_overhang(plan), *(check for check in checks if check is not None))


def _overhang(plan: Plan) -> tuple[Overload, ...]:
    """Work that stands out far is turned on a centre."""
    shop = plan.job.shop
    if shop.stock.stick_out is None or shop.lathe.holding != "chuck":
        return ()
    ratio = (shop.stock.stick_out + shop.stock.front) / (2 * shop.stock.radius)
    if ratio <= OVERHANG_LIMIT:
        return ()
    says = f"the bar projects by {ratio:.1f} times its diameter, over {OVERHANG_LIMIT:g} (common practice, no source)"
    remedy = "Chuck it shorter, or support it on a centre until its end is turned"
    return (Overload("overhang", (), says, remedy),)


def _motor(plan: Plan, found: Sequence[MoveLoad]) -> Overload | None:
    motor = plan.job.shop.lathe.motor_w
    if motor is None:
        return None
    over = [load for load in found if load.power > DRIVE * motor]
    says = f"the cut takes {_most(over, 'power'):.0f} W at the edge, and the motor gives {DRIVE * motor:.0f} W"
    return _overload("motor", over, says, "Take a smaller bite (limits.bite), a slower spindle or less feed")


def _bending(plan: Plan, found: Sequence[MoveLoad]) -> Overload | None:
    """Only what is finished keeps what bends away under it."""
    stages = {move.n: move.stage for move in plan.moves}
    limit = BENDING_SHARE * plan.job.part.ridge
    over = [load for load in found if stages[load.n] == "finish" and (load.bends or 0.0) > limit]
    says = (
        f"the bar deflects by {100 * _most(over, 'bends') / plan.job.part.ridge:.0f} % of the ridge specified, "
        f"over {100 * BENDING_SHARE:.0f} %"
    )
    remedy = "Chuck it shorter or support it on a centre; leave less for finishing, or wind more slowly"
    return _overload("bending", over, says, remedy)


def _chatter(found: Sequence[MoveLoad]) -> Overload | None:
    over = [load for load in found if load.chip.width >= LONG_EDGE and slenderness(load.chip) > MOST_SLENDER]
    says = f"the chip is wide and thin ({_most_slender(over):.0f} : 1) and may chatter"
    return _overload("chatter", over, says, "Slow the spindle and wind a little faster, or take a smaller nose")


def _thin(plan: Plan, found: Sequence[MoveLoad]) -> Overload | None:
    row = material_of(plan)
    if row is None:
        return None
    tools = {move.n: plan.job.shop.lathe.cutter(move.tool).material for move in plan.moves}
    over = [
        load for load in found if load.chip.thickness < thinnest_chip(EDGE_RADIUS[tools[load.n]], row.thinnest.value)
    ]
    says = "the chip is thinner than the edge can cut, and it would rub"
    remedy = "Leave more for finishing and hone the edge, or leave it standing and file it"
    return _overload("thin", over, says, remedy)


def _long_bar(plan: Plan) -> Overload | None:
    if plan.job.part.surface == "outside":
        return None
    limit = BAR_OVERHANG_LIMIT["steel"]
    bars = [_boring_bar(plan, tool.name) for tool in plan.tools]
    ratios = [overhang_ratio(*bar) for bar in bars if bar is not None]
    if not ratios or max(ratios) <= limit:
        return None
    says = f"a boring bar projects by {max(ratios):.1f} times its diameter, over {limit:g} (common practice, no source)"
    return Overload("bar", (), says, "Set it deeper into its holder, or take a thicker bar")


def _overload(kind: Kind, over: Sequence[MoveLoad], says: str, remedy: str) -> Overload | None:
    return Overload(kind, tuple(load.n for load in over), says, remedy) if over else None


def _most(over: Sequence[MoveLoad], name: str) -> float:
    return max((getattr(load, name) or 0.0 for load in over), default=0.0)


def _most_slender(over: Sequence[MoveLoad]) -> float:
    return max((slenderness(load.chip) for load in over), default=0.0)
