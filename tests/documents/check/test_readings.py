"""Files of readings."""

from pathlib import Path

import pytest
from tests.documents.jobs import pin

from ovolo.check.measured import Measured
from ovolo.documents.check.readings import read_readings, readings_from_text
from ovolo.documents.reading import job_from_data
from ovolo.errors import JobFaults

JOB = job_from_data(pin())
OWNED = job_from_data(
    pin({"measure": [{"name": "mic", "kind": "micrometer", "u": 0.004}, {"name": "dial", "kind": "indicator"}]})
)


def _read(text: str) -> Measured:
    return readings_from_text(text, JOB)


def _wrong(text: str) -> list[str]:
    with pytest.raises(JobFaults) as found:
        _read(text)
    return [fault.where.removeprefix("readings, ") for fault in found.value.faults]


def test_a_diameter_is_kept_as_a_radius_with_half_its_uncertainty() -> None:
    reading = _read("z,d,u,u_z,over\n-3,13.52,0.01,0.02,3\n").readings[0]
    assert (reading.z, reading.r, reading.u, reading.u_z, reading.over) == (-3, 6.76, 0.005, 0.02, 3)
    assert reading.where == "readings[0]"


def test_what_is_left_out_is_that_of_the_instrument_and_a_point() -> None:
    bare = _read("z,d\n-3,13.52").readings[0]
    assert (bare.u, bare.u_z, bare.over) == (0.01, 0.1, 0.0)
    radius = _read("z,r\n-3,6.76").readings[0]
    assert (radius.r, radius.u) == (6.76, 0.01)
    first = readings_from_text("z,d\n-3,13.52", OWNED).readings[0]
    assert (first.u, first.over) == (0.002, 0.0)
    named = readings_from_text("z,d,with\n-3,13.52,mic\n-4,15,dial", OWNED).readings
    assert named[0].over == 6.3
    assert [reading.relative for reading in named] == [False, True]


@pytest.mark.parametrize("between", [",", ";", "\t"])
def test_pasted_columns_are_read_too(between: str) -> None:
    text = f"z{between}d\n-3.5{between}13.52\n\n".replace(".", "," if between != "," else ".")
    assert _read(text).readings[0].written == 13.52


def test_the_state_is_told_in_a_line_of_its_own() -> None:
    assert _read("# state = blended\nz,d\n-3,13.5").state == "blended"
    assert _read("# by caliper\nz,d\n-3,13.5").state == "turned"
    assert _wrong("# state = polished\nz,d\n-3,13.5") == ["line 1"]


def test_an_inch_job_is_measured_in_inches() -> None:
    small = {"part.outline": [{"z": 0, "d": 0.5}, {"z": -1, "d": 0.5}], "part.curve": [0, -1], "stock.diameter": 0.75}
    job = job_from_data(
        pin({"units": "in", "sure": ["inches"], **small, "tool.0.nose_radius": 0.1, "stock.stick_out": 2})
    )
    assert readings_from_text("z,d\n-0.5,0.5", job).readings[0].written == 12.7


@pytest.mark.parametrize(
    ("text", "where"),
    [
        ("", ["readings"]),
        ("z,d\n", ["readings"]),
        ("d\n1", ["line 1"]),
        ("z,d,r\n-1,2,1", ["line 1"]),
        ("z,d,q\n-1,2,1", ["line 1"]),
        ("z,d\n-1,x\n,3\n-1,-2\n-1,nan", ["line 2, d", "line 3, z", "line 4, d", "line 5, d"]),
        ("z,d\n-1,2,3", ["line 2"]),
        ("z,d,with\n-1,2,mike", ["line 2, with"]),
        ("z,d\n-1,1e9", ["line 2, d"]),
    ],
)
def test_all_that_is_wrong_is_named_at_once(text: str, where: list[str]) -> None:
    assert [place.removeprefix("readings") or "readings" for place in _wrong(text)] == [
        place.removeprefix("readings") or "readings" for place in where
    ]


def test_a_file_that_is_none(tmp_path: Path) -> None:
    for path in (tmp_path / "none.csv", tmp_path):
        with pytest.raises(JobFaults):
            read_readings(path, JOB)
    binary = tmp_path / "binary.csv"
    binary.write_bytes(b"\xff\xfe\x00z")
    with pytest.raises(JobFaults, match="UTF-8"):
        read_readings(binary, JOB)
