"""Frames of changed jobs, and the settings that finish their curves."""

from tests.documents.jobs import Data, pin

from ovolo.documents.reading import job_from_data
from ovolo.plan.stations.choose_tools import reach_of
from ovolo.plan.stations.stations import Pass
from ovolo.plan.view.frame import Frame


def frame_of(changes: Data | None = None) -> Frame:
    """The frame of the pin, changed."""
    return Frame(job_from_data(pin(changes)))


def passes_of(frame: Frame, ridge: float = 0.05) -> tuple[Pass, ...]:
    """The settings of its first tool, for a ridge in mm."""
    choice = reach_of(frame, frame.job.shop.tools[0], ridge).chooser(frame, frame.stretch).choose(ridge)
    assert choice is not None
    return choice.passes
