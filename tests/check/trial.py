"""One simulated part: made, measured, checked, and mended where a cut is proposed."""

from typing import NamedTuple

from tests.check.parts import places, shape
from tests.check.simulated import Made, Wrong, as_csv, make, measure
from tests.oracle import set_up

from ovolo.check.checking import Checked, check
from ovolo.documents.check.readings import readings_from_text
from ovolo.documents.plan.document import plan_as_data
from ovolo.documents.resolved import job_as_data

CASES = ("nothing", "cross", "saddle", "nose", "taper")
"""What is wrong with a part."""

READ = {"u": 0.01, "u_z": 0.02}


class Trial(NamedTuple):
    """What came of a part: whether something was wrong, was named, was within its stated 95 %; whether the verdict was
    false; whether a cut was proposed, and mended it."""

    wrong: bool
    named: bool
    covered: bool
    verdict_false: bool
    cut: bool
    mended: bool


def _wrong(case: str, tool: str, seed: int) -> tuple[Wrong, str, float]:
    """What is wrong, its name and size; sizes of either sign."""
    sign = 1 if seed % 2 else -1
    size = {"cross": 0.06, "saddle": 0.12, "nose": 0.2, "taper": 0.003}.get(case, 0.0) * sign
    wrong = Wrong(
        cross=size if case == "cross" else 0.0,
        saddle=size if case == "saddle" else 0.0,
        nose={tool: size} if case == "nose" else None,
        taper=size if case == "taper" else 0.0,
    )
    name = {"cross": "cross_offset", "saddle": "saddle_offset", "nose": "nose_radius", "taper": "taper"}.get(case, "")
    return wrong, name, size


def tried(name: str, case: str, seed: int) -> Trial:
    """Make a part, measure it, check it, and mend it where a cut is proposed."""
    made = shape(name)
    wrong, cause, size = _wrong(case, made.tool, seed)
    part = make(made.job, made.moves, wrong, seed)
    read = as_csv(measure(part, places(name), seed + 10_000, **READ), **READ)
    found = check(made.plan, readings_from_text(read, made.plan.job))
    covered = all(abs(f.value - (size if f.cause.name == cause else 0.0)) <= 2 * f.u for f in found.causes)
    inside = part.above() <= found.limits.above and part.below() <= found.limits.below
    false = found.verdict == ("not good" if inside else "good")
    plan = found.correction.plan
    mended = plan is not None and _inside(name, found, corrected(found, part, wrong, seed))
    return Trial(bool(cause), bool(found.causes), covered, false, plan is not None, mended)


def corrected(found: Checked, part: Made, wrong: Wrong, seed: int) -> Made:
    """The part after the correction, run with its shift on the same lathe."""
    plan = found.correction.plan
    assert plan is not None
    shop = plan.job.shop
    shift = found.correction.shift
    entered = {tool.name: tool.nose_radius for tool in found.plan.tools}
    noses = {
        tool.name: (wrong.nose or {}).get(tool.name, 0.0) + entered[tool.name] - tool.nose_radius for tool in plan.tools
    }
    left = Wrong(
        wrong.cross - shift["cross"] * shop.unit / shop.cross.factor,
        wrong.saddle - shift["saddle"] * shop.unit / shop.saddle.factor,
        noses,
        wrong.taper,
    )
    return make(job_as_data(plan.job), plan_as_data(plan), left, seed + 20_000, blank=part.rest)


def _inside(name: str, found: Checked, after: Made) -> bool:
    whole = Made(set_up(shape(name).job), after.rest)
    return whole.above() <= found.limits.above and whole.below() <= found.limits.below
