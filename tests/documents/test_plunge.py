"""The widest plunge of a job: its own, or what is usual in its material."""

import tomllib

import pytest
from tests.documents.jobs import only_fault, pin

from ovolo.documents.reading import job_from_data
from ovolo.documents.resolved import job_as_data, job_as_toml
from ovolo.plan.model import Job

BLADE = {"name": "blade", "kind": "grooving", "nose_radius": 0.2, "width": 3}


def _job(**changes: object) -> Job:
    return job_from_data(pin({name.replace("__", "."): value for name, value in changes.items()}))


@pytest.mark.parametrize(
    ("material", "plunge"),
    [
        ("brass", 3.0),
        ("aluminum", 3.0),
        ("mild steel", 2.5),
        ("cast iron", 2.5),
        ("gun metal", 2.5),
        ("stainless steel", 1.5),
        ("tool steel", 1.5),
    ],
)
def test_the_material_says_what_is_usual(material: str, plunge: float) -> None:
    assert _job(part__material=material).shop.plunge == plunge


def test_where_nothing_is_told_the_middle_one_counts() -> None:
    assert _job().shop.plunge == 2.5
    assert job_from_data(pin({"units": "in", "sure": ["inches"], "stock.stick_out": 35})).shop.plunge == 2.5


@pytest.mark.parametrize(("bite", "plunge"), [(0.6, 0.6), (2.6, 2.5)])
def test_in_a_bore_the_bite_where_that_is_less(bite: float, plunge: float) -> None:
    job = _job(
        part__surface="bore",
        part__outline=[{"z": 0, "d": 18}, {"z": -9, "d": 16}],
        part__curve=[0, -5],
        stock__hole=12,
        stock__diameter=30,
        tool__0__nose_radius=1,
        limits__bite=bite,
    )
    assert job.shop.plunge == plunge


def test_every_tool_of_the_resolved_job_tells_its_own() -> None:
    job = _job(tool__0__plunge=1.25, tool__1=BLADE, tool__2={"name": "knife", "nose_radius": 0.4})
    assert [tool["plunge"] for tool in job_as_data(job)["tool"]] == [1.25, 3, 2.5]
    assert job_from_data(tomllib.loads(job_as_toml(job))) == job


def test_the_resolved_job_states_the_usual_limit_too() -> None:
    assert job_as_data(_job(part__material="brass"))["limits"]["plunge"] == 3


def test_a_job_of_its_own_limit_reads_back() -> None:
    job = _job(limits__plunge=1.75)
    assert job_as_data(job)["limits"]["plunge"] == 1.75
    assert job_from_data(job_as_data(job)) == job
    assert job.shop.plunge_of(job.shop.tools[0]) == 1.75


@pytest.mark.parametrize(
    ("changes", "where"),
    [
        ({"limits.plunge": 0.001}, "limits.plunge"),
        ({"tool.0.plunge": 0.001}, "tool[0].plunge"),
        ({"limits.plunge": -1}, "limits.plunge"),
        ({"tool.0.plunge": 0}, "tool[0].plunge"),
        ({"tool.1": BLADE | {"plunge": 3.5}}, "tool[1].plunge"),
    ],
)
def test_what_no_slide_or_blade_can_do_is_refused(changes: dict[str, object], where: str) -> None:
    fault = only_fault(changes)
    assert fault.where == where
    assert fault.remedy
