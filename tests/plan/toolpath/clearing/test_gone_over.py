"""Ways back over a pass lie in the pass; every other move stays as it was."""

import itertools

from tests.documents.jobs import pin

from ovolo.documents.reading import job_from_data
from ovolo.geometry.segments import Point
from ovolo.plan.steps import Step, Walk
from ovolo.plan.toolpath.clearing.gone_over import gone_over

TOOL = job_from_data(pin()).shop.tools[0]


def _walked(*ways: tuple[str, float]) -> list[Step]:
    walk = Walk(TOOL, 4.0, 14.0)
    for slide, target in ways:
        (walk.cross if slide == "cross" else walk.saddle)(target)
    return walk.steps


def _ends(steps: list[Step]) -> list[Point]:
    for one, other in itertools.pairwise(steps):
        assert one.end == other.start
    return [step.end for step in steps]


def test_the_saddle_goes_back_at_the_same_figure_and_the_next_cut_begins_there() -> None:
    steps = _walked(
        ("cross", 12.0), ("saddle", -20.0), ("cross", 14.0), ("saddle", 2.6), ("saddle", 2.0), ("cross", 5.0)
    )
    assert _ends(gone_over(steps, [1, 5])) == [(4, 12), (-20, 12), (2.6, 12), (2, 12), (2, 5)]


def test_at_the_end_it_winds_out_where_it_came_back_to() -> None:
    steps = _walked(("cross", 12.0), ("saddle", -20.0), ("cross", 14.0), ("saddle", 2.0))
    assert _ends(gone_over(steps, [1])) == [(4, 12), (-20, 12), (2, 12), (2, 14)]


def test_what_goes_beyond_the_pass_or_cuts_nothing_stays() -> None:
    beyond = _walked(("cross", 12.0), ("saddle", -20.0), ("cross", 14.0), ("saddle", 5.0), ("cross", 5.0))
    assert gone_over(beyond, [1, 4]) == beyond
    idle = _walked(("cross", 12.0), ("saddle", -20.0), ("cross", 14.0), ("saddle", 2.0), ("cross", 5.0))
    assert gone_over(idle, [4]) == idle
    inward = _walked(("cross", 12.0), ("saddle", -20.0), ("cross", 10.0), ("saddle", 2.0), ("cross", 5.0))
    assert gone_over(inward, [1, 4]) == inward
