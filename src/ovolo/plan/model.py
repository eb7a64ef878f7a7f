"""What a plan is: a tuple of moves, swept; what has to happen before some of them, and what will come of it.

The one door to all that a plan is made of: other rooms take `Job`, `Move` and the like from here.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

from ovolo.plan.job import Job
from ovolo.plan.move import Before, Measured, Move, Prediction, Proof, Reading, Stage, Stand
from ovolo.plan.report.facts import Note
from ovolo.plan.swept_plan import SweptPlan, Worked
from ovolo.plan.view.frame import Frame
from ovolo.shop.slides import SlideName
from ovolo.shop.tools import Tool

__all__ = [
    "Before",
    "Job",
    "Measured",
    "Move",
    "Plan",
    "Prediction",
    "Proof",
    "Reading",
    "SlideName",
    "Stage",
    "Stand",
    "Worked",
]


@dataclass(frozen=True)
class Plan:
    """Moves that make the part, with the proof that no fewer stations would do and what will be left.

    `worked` is what the planner found on its way to the moves, kept so that nobody works it out again; None where the
    moves come from elsewhere.
    """

    job: Job
    tools: tuple[Tool, ...]
    moves: tuple[Move, ...]
    before: tuple[Before, ...]
    stations: int
    fewest: int
    proof: Proof
    prediction: Prediction
    notes: tuple[Note, ...] = field(default=())
    worked: Worked | None = field(default=None, compare=False, repr=False)

    def __hash__(self) -> int:
        """Of a few of its fields: plans are looked up by what was worked out for them."""
        return hash((self.job.title, len(self.moves), self.stations, self.prediction.ridge_max))

    @cached_property
    def frame(self) -> Frame:
        """The job as the planner looked at it."""
        return Frame(self.job) if self.worked is None else self.worked.frame

    @cached_property
    def swept(self) -> SweptPlan:
        """The metal after every move and what each takes: the planner's own sweep.

        A plan whose moves were exchanged for others (`dataclasses.replace`) is swept anew, once.
        """
        if self.worked is not None and self.worked.moves is self.moves:
            return SweptPlan(self.worked.frame, self.worked.steps, self.worked.sweep)
        return SweptPlan.of_moves(self.frame, self.tools, self.moves)
