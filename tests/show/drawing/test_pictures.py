"""Every picture by its name."""

from xml.etree import ElementTree

import pytest
from tests.show.plans import planned

from ovolo.errors import JobFaults
from ovolo.show.drawing.pictures import PICTURES, PictureName, picture_as_svg


@pytest.mark.parametrize("name", PICTURES)
@pytest.mark.parametrize("job", ["bridge-pin", "bush"])
def test_every_picture_is_made(name: PictureName, job: str) -> None:
    svg = picture_as_svg(planned(job), name, mode="dark")
    assert ElementTree.fromstring(svg).tag.endswith("svg")
    assert "#15212c" in svg


@pytest.mark.parametrize(("name", "move", "limit"), [("drawing", 63, "0 to 62"), ("move", 0, "1 to 62")])
def test_a_move_that_is_not_there_is_refused(name: PictureName, move: int, limit: str) -> None:
    with pytest.raises(JobFaults) as refused:
        picture_as_svg(planned("bridge-pin"), name, move=move)
    assert refused.value.faults[0].limit == limit


def test_a_move_is_shown_by_its_number() -> None:
    assert "<title>Move 8:" in picture_as_svg(planned("bridge-pin"), "move", move=8)
    plan = planned("bridge-pin")
    assert f"After move 8 of {len(plan.moves)}" in picture_as_svg(plan, move=8)
