"""What is measured at a stop, and what the figures of the slides should be there."""

from dataclasses import replace

from ovolo.plan.model import Before, Plan, Reading
from ovolo.setup.surfaces import standing

__all__ = ["should_be", "with_sizes"]


def with_sizes(plan: Plan) -> tuple[Before, ...]:
    """What happens ahead of moves, each measuring with the figures that should be found there."""
    return tuple(replace(b, should=should_be(plan, b.move)) if b.kind == "measure" else b for b in plan.before)


def should_be(plan: Plan, n: int) -> tuple[Reading, ...]:
    """What is measured ahead of move `n`, as the slides read it: nothing where no such surface is there.

    It is a cylinder that the coming tool has cut, and a shoulder that it has cut where the end face is another tool's.
    """
    tool, stands, shop = plan.moves[n - 1].tool, standing(plan, n), plan.job.shop
    cylinder, shoulder = stands.longest(tool), stands.shoulder(tool)
    out = []
    if cylinder is not None:
        figure = shop.cross.figure(cylinder.radius)
        out.append(Reading("cross", figure, shop.cross.text(figure)))
    own_face = stands.faced is not None and stands.faced.tool == tool
    if shoulder is not None and not own_face and shop.fine == shop.coarse:
        figure = shop.fine.figure(shoulder.z)
        out.append(Reading(shop.fine.name, figure, shop.fine.text(figure)))
    return tuple(out)
