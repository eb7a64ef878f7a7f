"""What there is to measure with: how much of the axis it covers, and how well it is read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal, NamedTuple

__all__ = ["UNNAMED", "USUAL", "Instrument", "Kind", "Usual"]

Kind = Literal["caliper", "micrometer", "depth micrometer", "indicator", "gauge"]


class Usual(NamedTuple):
    """What holds for a kind of instrument where the job gives nothing, mm.

    over: of the axis covered by jaws, anvils or rod. u: standard uncertainty of the reading. u_z: of its place.
    reads: what the reading is. absolute: whether it also shows what slides and scales get wrong.
    """

    over: float
    u: float
    u_z: float
    reads: Literal["diameter", "length", "radius"]
    absolute: bool = True


USUAL: Mapping[Kind, Usual] = MappingProxyType(
    {
        # ISO 13385-1 lets a caliper of 0.01 or 0.02 mm err by 0.02 to 0.03 mm (from memory); feel adds as much.
        "caliper": Usual(3.0, 0.02, 0.1, "diameter"),
        # ISO 3611 lets a micrometer of 0 to 25 mm err by 0.004 mm (from memory); feel of the ratchet as much.
        "micrometer": Usual(6.3, 0.003, 0.1, "diameter"),
        "depth micrometer": Usual(4.0, 0.01, 0.1, "length"),  # common practice, no source
        "indicator": Usual(0.0, 0.005, 0.02, "radius", absolute=False),  # common practice, no source
        "gauge": Usual(0.0, 0.03, 0.1, "radius"),  # feelers under a template: common practice, no source
    }
)
"""The usual figures of each kind."""


@dataclass(frozen=True)
class Instrument:
    """An instrument that the shop owns, mm; see `Usual`."""

    name: str
    kind: Kind
    over: float
    u: float
    u_z: float

    @classmethod
    def usual(
        cls, kind: Kind, name: str, over: float | None = None, u: float | None = None, u_z: float | None = None
    ) -> Instrument:
        """One with the usual figures of its kind for all that is not given.

        >>> Instrument.usual("micrometer", "0 to 25").over
        6.3
        """
        usual = USUAL[kind]
        return cls(
            name,
            kind,
            usual.over if over is None else over,
            usual.u if u is None else u,
            usual.u_z if u_z is None else u_z,
        )

    @property
    def absolute(self) -> bool:
        """Whether its readings also show what the slides get wrong: an indicator carried by them cannot."""
        return USUAL[self.kind].absolute


UNNAMED = Instrument("caliper", "caliper", 3.0, 0.02, 0.1)
"""What is taken where the job names nothing to measure with."""
