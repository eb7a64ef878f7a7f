"""Random tapers by a top slide that is set over: every plan holds what it promises, by a second opinion."""

import math

from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from tests import oracle

from ovolo.documents.plan.document import plan_as_data
from ovolo.documents.reading import job_from_data
from ovolo.errors import CannotPlan
from ovolo.plan.planner import make_plan

CASES = 12
TOOLS = (
    {"name": "round nose", "kind": "round", "nose_radius": 1.5},
    {"name": "knife", "nose_radius": 0.4, "edge_angle": 95, "point_angle": 35},
)


@st.composite
def tapers(draw: st.DrawFn) -> oracle.Data:
    """A cone between two cylinders, outside or in a bore, either way, with fine and coarse saddles."""
    angle = math.radians(draw(st.floats(1, 25))) * draw(st.sampled_from([1, -1]))
    length, bore = draw(st.floats(6, 25)), draw(st.booleans())
    rise = length * math.tan(angle)
    first = 8 + max(-rise, 0.0) + (4 if bore else 0)
    front = draw(st.sampled_from([0, 5]))
    z = [0.0, -front, -front - length, -front - length - 8]
    radii = [first, first, first + rise, first + rise]
    corners = [{"z": round(a, 4), "d": round(2 * r, 4)} for a, r in zip(z, radii, strict=True)]
    outline = corners if front else corners[1:]
    least, most = min(radii), max(radii)
    bar = {"diameter": 2 * most + 12, "hole": 2 * least - 1} if bore else {"diameter": 2 * most + 1}
    count = draw(st.sampled_from([0.005, 0.05, 0.5]))
    return {
        "title": "taper",
        "part": {"surface": "bore" if bore else "outside", "outline": outline, "curve": [z[1], z[2]]},
        "stock": {**bar, "proud": 0.5},
        "tool": [draw(st.sampled_from(TOOLS))],
        "finish": {"ridge": 0.08},
        "limits": {"bite": 1.2, "plunge": 2.5, "slides": ["saddle", "cross", "top"]},
        "slide": {
            "saddle": {"count": count},
            "top": {"travel": 80, "count": 0.02, "angle": math.degrees(math.atan(rise / length))},
        },
    }


@settings(
    max_examples=CASES,
    derandomize=True,
    phases=(Phase.explicit, Phase.generate),
    suppress_health_check=list(HealthCheck),
    deadline=None,
)
@given(job=tapers())
def test_tapers(job: oracle.Data) -> None:
    try:
        plan = plan_as_data(make_plan(job_from_data(job)))
    except CannotPlan as refused:  # a corner that the nose leaves, figures too coarse for it
        assert all(fault.says and fault.remedy and fault.limit for fault in refused.faults)
        assert {fault.where for fault in refused.faults} <= {"tool " + job["tool"][0]["name"], "finish.ridge", "tool"}
        return
    assert oracle.judge(job, plan).faults == []
    assert any(move["slide"] == "top" and move.get("station") for move in plan["moves"])
