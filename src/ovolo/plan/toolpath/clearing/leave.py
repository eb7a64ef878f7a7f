"""How much roughing leaves."""

from __future__ import annotations

from dataclasses import dataclass, replace

#: Roughing leaves steps of the first of these shares of the bite; of the next where a finishing cut is too much.
STEPS = (0.72, 0.52, 0.36, 0.24, 0.14)
#: The limits are kept with this much more to spare, where a roughing cut is too much, down to that.
MORE_TO_SPARE, LEAST_SHARE = 0.95, 0.82
#: Where even the least steps are too much, so much less of the allowance is left, down to that share of it.
LESS_ALLOWANCE, LEAST_ALLOWANCE = 0.6, 0.2


@dataclass(frozen=True)
class Leave:
    """How much roughing leaves, as shares of the bite and of the allowance.

    The allowance stays everywhere; over it stand steps of up to `step` times the bite, on cylinders of a tenth of that.
    `allowance` is the share of the allowance that is left: less than 1 only where so little has to go that roughing
    would leave it all. `limits` is the share of the limits that roughing is planned with, lest the quick picture of the
    metal flatters a cut.
    """

    step: float = STEPS[0]
    allowance: float = 1.0
    limits: float = 0.99

    def finer(self) -> Leave | None:
        """The same with less left, for lighter finishing cuts; None where that is next to nothing."""
        less = [step for step in STEPS if step < self.step - 1e-9]
        if less:
            return replace(self, step=less[0])
        allowance = self.allowance * LESS_ALLOWANCE
        return replace(self, allowance=allowance) if allowance > LEAST_ALLOWANCE else None

    def lighter(self) -> Leave | None:
        """The same with narrower cuts in roughing; None where they are narrow enough."""
        limits = self.limits * MORE_TO_SPARE
        return replace(self, limits=limits) if limits > LEAST_SHARE else None
