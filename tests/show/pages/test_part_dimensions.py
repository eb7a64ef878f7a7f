"""Each dimension names the field that it comes from and stands where that is; each handle pulls at its own fields."""

from typing import Any

import pytest
from tests.show.pages.examples import NAMES, document

from ovolo.documents.reading import job_from_data
from ovolo.show.pages.part_dimensions import Dimension, dimensions, handles, tangent_joints


def value_at(data: Any, path: tuple[str | int, ...]) -> Any:
    for step in path:
        data = data[step]
    return data


@pytest.mark.parametrize("name", NAMES)
def test_a_dimension_holds_the_value_of_its_field(name: str) -> None:
    data = document(name)
    found = dimensions(job_from_data(data), data)
    assert found
    assert all(value_at(data, d.path) == d.value for d in found)
    assert len({d.path for d in found}) == len(found)


def by_path(found: list[Dimension]) -> dict[str, Dimension]:
    return {".".join(map(str, d.path[1:])): d for d in found}


def test_the_pin_has_the_dimensions_of_its_drawing() -> None:
    data = document()
    found = by_path(dimensions(job_from_data(data), data))
    assert found["outline.1.convex"].kind == "radius"
    assert found["outline.1.d"].at == pytest.approx((-9, 9))
    assert (found["outline.2.z"].a, found["outline.2.z"].b, found["outline.2.z"].sign) == (0, -24, -1)
    assert "outline.2.d" not in found  # the same diameter twice is no second dimension


FORMS: dict[str, Any] = {
    "title": "x",
    "part": {"form": [{"form": "dome", "diameter": 18, "height": 9}, {"form": "fillet", "radius": 1},
                      {"form": "face", "diameter": 22}, {"form": "cylinder", "length": 6}]},
    "stock": {"diameter": 24},
    "tool": [{"name": "round", "kind": "round", "nose_radius": 0.5}],
}  # fmt: skip


def test_forms_have_their_dimensions_where_they_lie() -> None:
    found = by_path(dimensions(job_from_data(FORMS), FORMS))
    assert (found["form.0.height"].a, found["form.0.height"].b) == pytest.approx((0, -9))
    assert (found["form.3.length"].a, found["form.3.length"].b) == pytest.approx((-9, -15))
    assert found["form.2.diameter"].at == pytest.approx((-9, 11))
    assert found["form.1.radius"].kind == "radius"


def test_pulling_a_handle_gives_the_value_of_its_field() -> None:
    for data in (document(), FORMS):
        for handle in handles(job_from_data(data), data):
            for pull, place in ((handle.z, handle.at[0]), (handle.r, handle.at[1])):
                if pull is not None:
                    assert pull.base + pull.factor * place == pytest.approx(value_at(data, pull.path))


def test_the_middle_of_a_dished_end_has_a_depth_and_can_be_pulled() -> None:
    dish = [{"z": -1.2122, "d": 0}, {"z": 0, "d": 24, "concave": 60}, {"z": 0, "d": 30}, {"z": -16, "d": 30}]
    data = document() | {"part": {"outline": dish, "curve": [0, -12]}}
    data["stock"] = {"diameter": 32, "proud": 0.5}
    depth = by_path(dimensions(job_from_data(data), data))["outline.0.z"]
    assert (depth.a, depth.value) == (0.0, -1.2122)
    assert depth.b == pytest.approx(-1.2122)
    first = next(h for h in handles(job_from_data(data), data) if h.name == "point 1")
    assert first.z is not None


def test_the_diameter_of_a_ball_stands_on_the_ball_and_is_pulled_there() -> None:
    forms = [{"form": "ball", "diameter": 25, "neck": 12}, {"form": "cylinder", "length": 10}]
    data: dict[str, Any] = {
        "title": "x",
        "part": {"form": forms},
        "stock": {"diameter": 27},
        "tool": [{"name": "r", "nose_radius": 1, "kind": "round"}],
    }
    job = job_from_data(data)
    assert by_path(dimensions(job, data))["form.0.diameter"].at == pytest.approx((-12.5, 12.5))
    ball = next(handle for handle in handles(job, data) if handle.name == "ball")
    assert ball.at == pytest.approx((-12.5, 12.5))
    assert ball.r is not None
    assert (ball.z, ball.r.path, ball.r.factor) == (None, ("part", "form", 0, "diameter"), 2.0)


def test_the_neck_is_measured_on_the_neck() -> None:
    ball, fillet = {"form": "ball", "diameter": 25, "neck": 12}, {"form": "fillet", "radius": 3}
    tool = {"name": "r", "nose_radius": 1, "kind": "round"}
    part = {"form": [ball, fillet, {"form": "cylinder", "length": 10}]}
    data: dict[str, Any] = {"title": "x", "part": part, "stock": {"diameter": 27}, "tool": [tool]}
    at = by_path(dimensions(job_from_data(data), data))["form.0.neck"].at
    assert at[1] == pytest.approx(6)
    assert job_from_data(data).part.outline.end.x < at[0] < -25


def test_tangent_joints_are_told_from_corners() -> None:
    data = document()
    assert tangent_joints(job_from_data(data), data) == ["point 2"]
    bent = {**data, "part": {**data["part"], "outline": [dict(p) for p in data["part"]["outline"]]}}
    bent["part"]["outline"][1]["convex"] = 9.5
    assert tangent_joints(job_from_data(bent), bent) == []
