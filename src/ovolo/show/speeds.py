"""Spindle speeds to begin with, from the material's cutting speed: a range, since published ones lie far apart."""

from ovolo.documents.resolved import unit_of
from ovolo.errors import JobFaults
from ovolo.plan.model import Plan
from ovolo.predict.cutting import wanted_speed
from ovolo.predict.materials import material, speeds_for
from ovolo.show.dimensions import plain_size

__all__ = ["speeds"]

TOOL = "high-speed steel"


def speeds(plan: Plan) -> tuple[str, ...]:
    """What to begin with, in sentences; none for a material that no table knows."""
    try:
        row = speeds_for(material(plan.job.part.material), TOOL)
    except JobFaults:
        return ()
    stock = plan.job.shop.stock
    largest = stock.radius if plan.job.part.surface == "outside" else plan.job.part.outline.bounds()[3]
    slow, fast = (round(wanted_speed(speed, 2 * largest), -1) for speed in (row.low, row.high))
    size = f"Ø {plain_size(2 * largest, unit_of(plan.job))} {unit_of(plan.job)}"
    return (
        f"{plan.job.part.material[:1].upper()}{plan.job.part.material[1:]}, {TOOL}: {row.low:g} to {row.high:g} m/min, "
        f"at {size} about {slow:.0f} to {fast:.0f} turns a minute. Begin with the lower figure.",
        "Never faster than the chuck or the lathe is marked for; slower where it chatters.",
    )
