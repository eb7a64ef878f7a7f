"""A plan for the tests, written by hand: small, with every kind of move and word in it."""

import itertools
from collections.abc import Mapping

from tests.documents.jobs import pin

from ovolo.documents.reading import job_from_data
from ovolo.geometry.segments import Point
from ovolo.plan.model import Before, Move, Plan, Prediction, Proof
from ovolo.plan.report.facts import AsWritten


def plan(changes: Mapping[str, object] | None = None) -> Plan:
    """Three roughing moves and three finishing ones on the bridge pin; not a plan to turn anything by."""
    job = job_from_data(pin(changes))
    tool = job.shop.tools[0]
    places = [
        Point(4.5, 14.0),
        Point(4.5, 12.2),
        Point(-21.6, 12.2),
        Point(4.5, 12.2),
        Point(4.5, 0.0),
        Point(3.0, 0.0),
    ]
    cuts = {2: (18.8, 0.95), 5: (0.3, 0.4)}
    moves = []
    for n, (start, end) in enumerate(itertools.pairwise(places), 1):
        slide = job.shop.cross if start.x == end.x else job.shop.saddle
        at = end.y - tool.nose_radius if slide.name == "cross" else end.x - tool.nose_radius
        area, bite = cuts.get(n, (0.0, 0.0))
        figure = slide.figure(at)
        moves.append(
            Move(
                n=n,
                stage="rough" if n < 4 else "finish",
                tool=tool.name,
                slide=slide.name,
                start=start,
                end=end,
                figure=figure,
                shown=f"Ø {figure:.2f}" if slide.name == "cross" else f"{figure:.3f}",
                within=0.0456789,
                cuts=n in cuts,
                area=area,
                bite=bite,
                station=1 if n == 5 else None,
            )
        )
    before = (Before(1, "tool", "Round nose 6, on centre height"), Before(4, "measure", "Measure one diameter"))
    prediction = Prediction(
        0.0493123, Point(-0.0, 3.4), 0.0000123, (Point(-0.0, 0.0), Point(-9, 9.01)), ((Point(-2, 5), 0.04),)
    )
    return Plan(job, (tool,), tuple(moves), before, 1, 1, Proof(0, None), prediction, (AsWritten("A word more"),))
