"""A frame and a bay answer what planning asks of a view; a bay answers nothing that only the whole job has."""

import inspect

import numpy as np
import pytest
from tests.plan.view.test_undercut_frame import BACK, LEFT, RIGHT, SHOULDER

from ovolo.geometry.segments import Point
from ovolo.plan.view.frame import Frame, whole
from ovolo.plan.view.undercut_frame import SideView, side_tool
from ovolo.plan.view.view import View

ASKED = sorted(name for name, _ in inspect.getmembers(View) if not name.startswith("_"))


@pytest.mark.parametrize("name", ASKED)
def test_both_answer_all_that_is_asked_of_a_view(name: str) -> None:
    assert hasattr(BACK.whole, name)
    assert hasattr(BACK, name)


@pytest.mark.parametrize(
    "name", ["figure", "place", "bar", "end_face", "face_floor", "curve_ends", "nub_end", "centre"]
)
def test_a_bay_has_none_of_what_only_the_whole_job_has(name: str) -> None:
    assert hasattr(BACK.whole, name)
    assert not hasattr(BACK, name)
    with pytest.raises(AssertionError):
        whole(BACK)


@pytest.mark.parametrize("view", [BACK, SHOULDER])
def test_the_ends_of_the_metal_lie_along_the_bays_own_axes(view: SideView) -> None:
    """Every place of the blank, turned, lies between them."""
    frame: Frame = view.whole
    x = np.linspace(frame.back, frame.front, 50)
    corners = [(a, b) for a, top in zip(x, frame.blank_top(x), strict=True) for b in (frame.base, float(top))]
    places = np.array([view.turned(Point(*c)) for c in corners])
    assert places[:, 0].max() <= view.front + 1e-9
    assert places[:, 1].max() <= view.top + 1e-9
    tool = side_tool(LEFT if view.bay.way < 0 else RIGHT, view.bay.way)
    assert tool is not None
    assert view.top_for(tool) <= view.top + 1e-9 or view.bay.way > 0
