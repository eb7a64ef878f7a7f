"""What stands on the piece ahead of a move of a plan: its end face, its cylinders and shoulders."""

from ovolo.plan.model import Plan
from ovolo.plan.report.surfaces import Cylinder, Shoulder, Standing, standing_on

__all__ = ["Cylinder", "Shoulder", "Standing", "standing"]


def standing(plan: Plan, n: int) -> Standing:
    """The piece when move `n` is about to come, from the plan's own sweep."""
    line = plan.swept.border_after(sum(move.n < n for move in plan.moves))
    return standing_on(plan.frame, {tool.name: tool for tool in plan.tools}, plan.moves, n, line)
