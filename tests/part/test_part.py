"""The part: what passes on to the planner, unchanged."""

import dataclasses

import pytest
from tests.documents.jobs import pin

from ovolo.documents.reading import job_from_data


def test_a_part_holds_what_the_job_says() -> None:
    part = job_from_data(pin({"part.material": "brass", "finish.ridge": 0.03})).part
    assert (part.surface, part.material, part.curve, part.ridge) == ("outside", "brass", (0, -9), 0.03)
    assert [tuple(p) for p in part.outline.nodes] == [(0, 0), (-9, 9), (-24, 9)]


def test_the_greater_end_of_the_curve_comes_first() -> None:
    assert job_from_data(pin({"part.curve": [-9, -1]})).part.curve == (-1, -9)


def test_it_passes_between_rooms_unchanged() -> None:
    part = job_from_data(pin()).part
    with pytest.raises(dataclasses.FrozenInstanceError):
        part.ridge = 1.0  # type: ignore[misc]
