"""A second opinion on plans: part, stock and tools rebuilt from the job's own figures, every move swept with shapely.

Shares no code with the program. Works on documents alone: a job in the shape of job.toml, a plan in the shape of
plan.json. Lengths in mm, in the half-plane (z, r). What it measures, and to what:

    depth    how deep any tool entered what must be kept, by the distance from its border
    height   the highest metal over the curve, wherever it stands: from what is left to the exact lines and arcs
    chips    area, extent across the feed and thickness of what each move took from what still stood
    surface  the border of what is left, between what true noses leave and what flattened ones may
"""

from tests.oracle.beside import other_judge
from tests.oracle.heights import AGREE, drop, standing
from tests.oracle.judgement import Verdict, judge, tracks_of
from tests.oracle.outline import Data, pieces_of
from tests.oracle.reach import out_of_reach
from tests.oracle.shop import Setup, set_up

__all__ = [
    "AGREE",
    "Data",
    "Setup",
    "Verdict",
    "drop",
    "judge",
    "other_judge",
    "out_of_reach",
    "pieces_of",
    "set_up",
    "standing",
    "tracks_of",
]
