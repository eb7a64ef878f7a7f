"""A bench to try clearing on: a pin, one tool, the blank before the first cut."""

from tests.documents.jobs import Data, pin

from ovolo.documents.reading import job_from_data
from ovolo.plan.toolpath.clearing.bench import Bench
from ovolo.plan.toolpath.clearing.leave import Leave
from ovolo.plan.toolpath.recipes import Yard
from ovolo.plan.view.frame import Frame

NOSES: list[Data] = [
    {"name": "round nose", "kind": "round", "nose_radius": 3},
    {"name": "small nose", "kind": "round", "nose_radius": 1},
    {"name": "knife", "kind": "pointed", "nose_radius": 0.4},
    {"name": "blade", "kind": "grooving", "width": 3, "nose_radius": 0.2},
]


def bench_for(tool: Data, leave: Leave | None = None) -> tuple[Frame, Bench]:
    frame = Frame(job_from_data(pin({"tool": [tool]})))
    yard = Yard(frame, frame.job.shop.tools)
    return frame, yard.bench(frame.job.shop.tools[0], yard.blank, leave or Leave())
