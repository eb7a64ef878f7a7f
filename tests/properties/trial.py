"""One random job tried: planned once, and everything that a plan must hold looked at."""

import re
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

import tomlkit
from tests import oracle

from ovolo.documents.plan.document import plan_as_data
from ovolo.documents.reading import job_from_data
from ovolo.errors import CannotPlan
from ovolo.plan.planner import make_plan

PLACE = re.compile(r"from z = (\S+) \(Ø (\S+)\) to z = (\S+) \(Ø (\S+)\)")
"""How a fault names a stretch of the outline."""


@dataclass(frozen=True)
class Trial:
    """What came of a job: a plan and what falls short of it, or a refusal and whether it is right.

    `outcome`: "planned", "out of reach" (the second opinion agrees), "bite" (no way found within bite and plunge, which
    the second opinion can't judge), or "wrong".
    """

    job: oracle.Data
    outcome: str
    faults: list[str] = field(default_factory=list)

    @cached_property
    def text(self) -> str:
        """The job as a file, to try it again."""
        return tomlkit.dumps(self.job)

    def complaint(self) -> str:
        """What falls short, and the job."""
        return "\n".join([self.outcome, *self.faults[:6], "", self.text])


def attempt(job: oracle.Data, folder: Path | None = None) -> Trial:
    """Plan a job and judge what came; with a folder also by the judge beside the repository, where there is one."""
    try:
        plan = plan_as_data(make_plan(job_from_data(job)))
    except CannotPlan as refused:
        return _refused(job, refused)
    faults = oracle.judge(job, plan).faults
    said = oracle.other_judge(job, plan, folder) if folder is not None else None
    faults += [f"the other judge: {fault}" for fault in said or []]
    return Trial(job, "wrong" if faults else "planned", faults)


def _refused(job: oracle.Data, refused: CannotPlan) -> Trial:
    """A refusal is right where the second opinion finds every place that it names out of reach as well."""
    said = [str(fault) for fault in refused.faults]
    if all(fault.where in ("limits.bite", "limits.plunge") for fault in refused.faults):
        return Trial(job, "bite", said)
    poor = [f"says little: {fault}" for fault in refused.faults if not (fault.says and fault.remedy and fault.limit)]
    wrong = [f"can be reached: {text}" for text in said if oracle.out_of_reach(job, _place(text)) == 0]
    return Trial(job, "wrong" if poor or wrong else "out of reach", poor + wrong or said)


def _place(text: str) -> tuple[complex, complex] | None:
    """The two ends of the stretch that a fault names, if it names one."""
    found = PLACE.search(text)
    if not found:
        return None
    z1, d1, z2, d2 = (float(figure) for figure in found.groups())
    return complex(z1, d1), complex(z2, d2)
