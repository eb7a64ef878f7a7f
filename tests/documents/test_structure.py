"""Fields that need or exclude one another."""

import pytest
from tests.documents.jobs import NOTHING, faults, only_fault, pin


@pytest.mark.parametrize(
    ("changes", "where", "says"),
    [
        ({"part.outline": NOTHING}, "part.outline", "the outline of the part is missing"),
        ({"part.file": "pin.dxf"}, "part.file", "part.outline already says it"),
        ({"stock.diameter": NOTHING}, "stock.diameter", "the size of the stock is missing"),
        (
            {"part.outline.0.convex": 3},
            "part.outline[0].convex",
            "an arc leads to a point from the one before, and this is the first",
        ),
        ({"part.outline.1.concave": 9}, "part.outline[1].concave", "the arc is already described by convex"),
        ({"tool.1": {"name": "round nose 6 ", "nose_radius": 1}}, "tool[1].name", "tool[0] has the same name"),
        (
            {"slide.cross.divisions": 100},
            "slide.cross.per_turn",
            "a slide that is read on its dial needs the travel of one turn",
        ),
        (
            {"limits.slides": ["saddle"]},
            "limits.slides",
            "the cross slide is not listed, and no plan can do without it",
        ),
    ],
)
def test_contradictions_are_found(changes: dict[str, object], where: str, says: str) -> None:
    fault = only_fault(changes)
    assert (fault.where, fault.says) == (where, says)
    assert fault.remedy


def test_they_are_reported_along_with_wrong_fields() -> None:
    data = pin({"stock.proud": "x", "part.outline.1.concave": 9})
    assert [fault.where for fault in faults(data)] == ["stock.proud", "part.outline[1].concave"]


def test_other_slides_may_be_allowed_as_well() -> None:
    assert not faults(pin({"limits.slides": ["saddle", "cross", "top"], "slide.top": {"travel": 60}}))


def test_only_a_hole_already_shaped_has_an_outside_as_well() -> None:
    shaped = [{"z": 0.5, "d": 12}, {"z": -24, "d": 12}]
    assert only_fault({"stock.outline": shaped}).where == "stock.outline"
    bore = {"part.surface": "bore", "part.outline": [{"z": 0, "d": 14}, {"z": -24, "d": 14}]}
    assert not faults(pin({**bore, "stock.outline": shaped, "stock.proud": NOTHING}))
