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


@pytest.mark.parametrize(("name", "first", "wrong"), [("drawing", 0, "last + 1"), ("move", 1, "0")])
def test_a_move_that_is_not_there_is_refused(name: PictureName, first: int, wrong: str) -> None:
    plan = planned("bridge-pin")
    move = len(plan.moves) + 1 if wrong == "last + 1" else int(wrong)
    with pytest.raises(JobFaults) as refused:
        picture_as_svg(plan, name, move=move)
    assert refused.value.faults[0].limit == f"{first} to {len(plan.moves)}"


def test_a_move_is_shown_by_its_number() -> None:
    assert "<title>Move 8:" in picture_as_svg(planned("bridge-pin"), "move", move=8)
    plan = planned("bridge-pin")
    assert f"After move 8 of {len(plan.moves)}" in picture_as_svg(plan, move=8)
