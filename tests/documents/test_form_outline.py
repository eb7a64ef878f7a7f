"""The outline of a form tool as written: what can be wrong with it, and where; how it reads back."""

import tomllib

import pytest
from tests.documents.jobs import Data, pin

from ovolo.documents.reading import job_from_data
from ovolo.documents.resolved import job_as_toml
from ovolo.errors import JobFaults

CORNER = {"z": 0, "r": 0}


def _job(outline: object, **more: object) -> Data:
    return {**pin(), "tool": [{"name": "form tool", "kind": "form", "outline": outline, **more}]}


def _faults(job: Data) -> list[tuple[str, str, str]]:
    with pytest.raises(JobFaults) as refused:
        job_from_data(job)
    return [(fault.where, fault.says, fault.limit) for fault in refused.value.faults]


@pytest.mark.parametrize(
    ("outline", "where", "says"),
    [
        ([CORNER], "tool[0].outline", "entries"),
        ([CORNER, {"z": 0, "r": -2}], "tool[0].outline", "no width"),
        ([CORNER, {"z": 6, "r": 0, "convex": 2.9}], "tool[0].outline[1].convex", "cannot span the 6 mm"),
        ([CORNER, {"z": 6, "r": 0, "through": [3, 1]}], "tool[0].outline[1].through", "bulges into the tool"),
        ([CORNER, {"z": 6, "r": 0, "through": [3, 0]}], "tool[0].outline[1].through", "lie on one line"),
        ([CORNER, {"z": 6, "r": 0, "through": [3, -4]}], "tool[0].outline[1]", "bulges out beyond its ends"),
        ([CORNER, CORNER, {"z": 6, "r": 0}], "tool[0].outline[1].z", "same as the one before"),
        ([CORNER, {"z": 3, "r": -1}, {"z": 2, "r": -2}], "tool[0].outline[2].z", "back toward the chuck"),
        ([CORNER, {"z": 3, "r": 1}, {"z": 6, "r": 0}], "tool[0].outline[1]", "turns into the tool"),
        ([CORNER, {"z": 0, "r": -3}, {"z": 0, "r": 2}, {"z": 5, "r": 2}], "tool[0].outline[2]", "straight up or down"),
        ([{"z": 0, "r": 2}, {"z": 0, "r": 5}, {"z": 5, "r": 2}], "tool[0].outline[1]", "straight up or down"),
        ([{"z": 0, "r": 2}, {"z": 5, "r": 2}, {"z": 5, "r": -3}, {"z": 5, "r": 4}], "tool[0].outline[2]", "up or down"),
        ([{"z": 0, "r": 0, "convex": 3}, {"z": 3, "r": 0}], "tool[0].outline[0].convex", "this is the first"),
        (None, "tool[0].outline", "is missing"),
    ],
)
def test_what_is_wrong_is_said_where_it_is(outline: object, where: str, says: str) -> None:
    found = [fault for fault in _faults(_job(outline)) if fault[0] == where]
    assert len(found) == 1
    assert says in found[0][1]


def test_every_fault_is_told_at_once() -> None:
    points = [CORNER, {"z": 2, "r": 0, "convex": 0.5}, {"z": 1, "r": -1}, {"z": 1, "r": -1}, {"z": 4, "r": 0}]
    assert [where for where, _, _ in _faults(_job(points))] == [
        "tool[0].outline[1].convex",
        "tool[0].outline[2].z",
        "tool[0].outline[3].z",
    ]


def test_only_a_form_tool_has_an_outline_and_only_it_needs_no_nose_radius() -> None:
    job = pin({"tool.0": {"name": "nose", "kind": "round", "outline": [CORNER, {"z": 3, "r": 0}]}})
    assert {where for where, _, _ in _faults(job)} == {"tool[0].outline", "tool[0].nose_radius"}


def test_sharp_corners_are_allowed_and_a_shade_of_hollow_is_rounding() -> None:
    """A joint written to three decimals is tangent to within half a thousandth."""
    tool = job_from_data(_job([CORNER, {"z": 3, "r": 0}])).shop.tools[0]
    assert (tool.kind, tool.width, tool.tightest) == ("form", 3.0, 0.0)
    rounded = [CORNER, {"z": 0.293, "r": -0.7071, "convex": 1}, {"z": 3, "r": -0.707}]
    assert job_from_data(_job([*rounded, {"z": 5, "r": -0.7071}, {"z": 6, "r": 0}])).shop.tools[0].width == 6.0


def test_flanks_may_be_written_out() -> None:
    """A square tool with both its flanks as pieces of the outline."""
    square = [{"z": 0, "r": 4}, {"z": 0, "r": 1}, CORNER, {"z": 3, "r": 0}, {"z": 3, "r": 2}, {"z": 3, "r": 4}]
    assert job_from_data(_job(square)).shop.tools[0].width == 3.0


def test_a_hollow_takes_a_tool_with_a_corner_and_not_a_wider_bend() -> None:
    cove = [{"z": 0, "d": 0}, {"z": 0, "d": 30}, {"z": -4, "d": 30}, {"z": -8, "d": 30, "concave": 2.5}]
    changes: Data = {"part.outline": [*cove, {"z": -20, "d": 30}], "part.curve": [-3, -9], "stock.diameter": 32}
    bend = {"name": "wide", "kind": "form", "outline": [CORNER, {"z": 6, "r": 0, "convex": 3}]}
    corner = {"name": "square", "kind": "form", "outline": [CORNER, {"z": 1, "r": 0}]}
    assert [where for where, _, _ in _faults(pin({**changes, "tool.0": bend}))] == ["tool[0].outline"]
    assert job_from_data(pin({**changes, "tool.0": bend, "tool.1": corner}))


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize(
    "outline",
    [
        [CORNER, {"z": 0.24, "r": 0, "convex": 0.12}],
        [{"z": 1.1, "r": 5.0431}, {"z": 1.14, "r": 5, "convex": 0.0431}, {"z": 1.2, "r": 5}, {"z": 1.25, "r": 5.04}],
        [CORNER, {"z": 0.2, "r": 0, "through": [0.1, -0.02]}],
    ],
)
def test_it_reads_back_the_same(outline: list[Data], units: str) -> None:
    part = {"outline": [{"z": 0, "d": 0}, {"z": 0, "d": 0.5}, {"z": -2, "d": 0.5}], "curve": [0, -1]}
    tool = {"name": "form tool", "kind": "form", "outline": outline}
    job = job_from_data({"title": "t", "units": units, "part": part, "stock": {"diameter": 0.6}, "tool": [tool],
                         "finish": {"ridge": 0.05}})  # fmt: skip
    assert job_from_data(tomllib.loads(job_as_toml(job))) == job
