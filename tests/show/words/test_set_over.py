"""How a top slide is set over, with figures by trigonometry."""

import math
import re

from tests.documents.jobs import pin
from tests.plan.stations.test_taper import ANGLE, CONE
from tests.show.plans import planned

from ovolo.documents.reading import job_from_data
from ovolo.plan.planner import make_plan
from ovolo.show.words.set_over import how_to_set_over
from ovolo.show.words.setting_up import setting_up
from ovolo.show.words.table import moves_table


def test_it_tells_sine_and_tangent_with_the_jobs_own_lengths() -> None:
    plan = make_plan(job_from_data(pin({**CONE, "slide.top": {"travel": 60, "count": 0.02, "angle": ANGLE}})))
    text = " ".join(how_to_set_over(plan))
    assert f"set over by {ANGLE:.4g}° from the axis: wound toward the chuck it carries the tool out" in text
    found = re.search(r"wound ([0-9.]+) mm by its own figure it must show ([0-9.]+) mm", text)
    assert found
    assert float(found[2]) == round(float(found[1]) * math.sin(math.radians(ANGLE)), 2)
    found = re.search(r"over ([0-9.]+) mm along the axis they differ by ([0-9.]+) mm", text)
    assert found
    assert float(found[2]) == round(float(found[1]) * 10 / 30, 2)  # Ø 10 over 30 mm
    assert any(item.title == "How the top slide must be set over" for item in setting_up(plan).items)
    rows = [row for section in moves_table(plan).sections for row in section.rows if row.slide == "top slide"]
    assert [row.lock for row in rows if row.cuts] == ["saddle, cross slide"]


def test_nothing_is_said_where_it_is_not() -> None:
    assert not list(how_to_set_over(planned("bridge-pin")))
