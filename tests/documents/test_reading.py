"""From a file to a job, whatever the file holds."""

import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.documents.jobs import NOTHING, Data, faults, jobs, pin

from ovolo.documents.reading import LARGEST_FILE, job_from_data, read_job
from ovolo.documents.resolved import job_as_toml
from ovolo.errors import JobFaults
from ovolo.geometry.segments import Arc
from ovolo.plan.model import Job

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))


def _fault(path: Path) -> tuple[str, str]:
    with pytest.raises(JobFaults) as caught:
        read_job(path)
    (fault,) = caught.value.faults
    return fault.where, fault.says


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.stem)
def test_every_example_is_read(example: Path) -> None:
    assert isinstance(read_job(example), Job)


def test_there_are_examples() -> None:
    assert {path.stem for path in EXAMPLES} >= {"bridge-pin", "winch-pin-inch", "corner-radius"}


def test_a_file_that_is_not_there_or_is_none_is_named(tmp_path: Path) -> None:
    assert _fault(tmp_path / "pin.toml") == (str(tmp_path / "pin.toml"), "there is no such file")
    assert _fault(tmp_path) == (str(tmp_path), "it is not a file")


def test_what_is_not_toml_is_shown_with_its_line(tmp_path: Path) -> None:
    job = tmp_path / "pin.toml"
    job.write_text('title = "Pin"\nunits mm\n')
    where, says = _fault(job)
    assert where == f"{job}, line 2"
    assert says.startswith("this line cannot be read (expected '='")


@pytest.mark.parametrize("content", ["a = [" * 5000, "a = " + "9" * 5000, "a = 1\na = 2", "a = "])
def test_hostile_toml_is_a_fault_too(tmp_path: Path, content: str) -> None:
    job = tmp_path / "pin.toml"
    job.write_text(content)
    assert _fault(job)[0].startswith(str(job))


def test_other_bytes_are_refused(tmp_path: Path) -> None:
    job = tmp_path / "pin.toml"
    job.write_bytes(b'title = "B\xfcchse"')
    assert _fault(job)[1] == "byte 11 is not UTF-8 text"
    job.write_bytes(b"#" * (LARGEST_FILE + 1))
    assert _fault(job)[1] == "4.0 MB are too much for a job"


def test_a_byte_order_mark_does_no_harm(tmp_path: Path) -> None:
    job = tmp_path / "pin.toml"
    job.write_bytes(b"\xef\xbb\xbf" + EXAMPLES[0].read_bytes())
    assert read_job(job) == read_job(EXAMPLES[0])


@pytest.mark.parametrize("data", [None, 3, [], "title"])
def test_what_is_no_table_is_no_job(data: object) -> None:
    (fault,) = faults(data)
    assert fault.says.endswith("stands where a job is wanted")


def test_the_second_look_comes_when_every_field_is_right() -> None:
    found = faults(pin({"stock.diameter": 10, "stock.proud": -1}))
    assert [fault.where for fault in found] == ["stock.proud"]
    assert [fault.where for fault in faults(pin({"stock.diameter": 10}))] == ["stock.diameter"]


def test_an_outline_may_come_from_forms() -> None:
    forms = [{"form": "dome", "diameter": 18}, {"form": "cylinder", "to": -24}]
    data = pin({"part.form": forms, "part.outline": NOTHING})
    assert job_from_data(data).part.outline.end == pytest.approx((-24, 9))


def test_faults_of_forms_come_with_the_others() -> None:
    forms = [{"form": "dome", "diametr": 18}]
    data = pin({"part.form": forms, "part.outline": NOTHING, "finish.ridge": 0.0001})
    assert {fault.where for fault in faults(data)} >= {"part.form[0].diametr", "finish.ridge"}


def test_forms_larger_than_the_stock_are_refused() -> None:
    data = pin({"part.form": [{"form": "dome", "diameter": 30}], "part.outline": NOTHING})
    assert [fault.where for fault in faults(data)] == ["stock.diameter"]


@given(jobs())
def test_random_jobs_that_are_right_are_read(data: Data) -> None:
    assert not faults(data)


_LEAVES = st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8) | st.sampled_from(["mm", 9, -9])
_VALUES = st.recursive(_LEAVES, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=6), inner))
_PLACES = [
    "title",
    "units",
    "version",
    "part",
    "part.outline",
    "part.outline.1",
    "part.outline.1.z",
    "part.outline.1.d",
    "part.outline.1.convex",
    "part.outline.2",
    "part.curve",
    "part.curve.1",
    "stock",
    "stock.diameter",
    "stock.proud",
    "stock.hole",
    "stock.outline",
    "tool",
    "tool.0",
    "tool.0.kind",
    "tool.0.nose_radius",
    "tool.0.edge_angle",
    "finish",
    "finish.ridge",
    "limits",
    "limits.slides",
    "slide",
    "slide.cross",
    "part.form",
]


@given(st.sampled_from(_PLACES), _VALUES)
def test_whatever_stands_anywhere_is_read_or_refused_in_words(place: str, value: object) -> None:
    for fault in faults(pin({place: value})):
        assert fault.says
        assert fault.remedy
        assert str(fault)


@given(st.dictionaries(st.sampled_from(["title", "part", "stock", "tool", "units", "x"]), _VALUES))
def test_whatever_is_given_is_refused_in_words(data: Data) -> None:
    assert all(fault.says and fault.remedy for fault in faults(data))


def test_a_tolerance_gives_the_ridge_where_none_is_asked_for() -> None:
    """ISO 2768-1:1989, table 1: ±0.2 on Ø 18, so 0.1 may stand on the radius."""
    told = job_from_data(pin({"finish.tolerance": "ISO 2768-m"}))
    assert told.part.ridge == pytest.approx(0.1)
    asked = job_from_data(pin({"finish.ridge": 0.03, "finish.tolerance": "ISO 2768-m"}))
    assert asked.part.ridge == pytest.approx(0.03)
    assert job_from_data(tomllib.loads(job_as_toml(told))) == told


def test_an_unknown_tolerance_is_a_fault_of_its_field() -> None:
    found = faults(pin({"finish.tolerance": "fine"}))
    assert [(fault.where, fault.value) for fault in found] == [("finish.tolerance", "fine")]


@pytest.mark.parametrize(("told", "radius"), [({}, 1.5 * 20), ({"stock.diameter": 44}, 22)])
def test_a_hole_already_shaped_has_an_outside(told: Data, radius: float) -> None:
    """1.5 times its widest place, Ø 40 of the bell, where the job says nothing; the hole behind is where it ends."""
    changes = {
        "part.surface": "bore",
        "part.outline": [{"z": 0, "d": 40}, {"z": -10, "d": 20, "convex": 10}, {"z": -30, "d": 20}],
        "stock": {"outline": [{"z": 1, "d": 34}, {"z": -9, "d": 19, "convex": 10}, {"z": -30, "d": 18}]},
    }
    stock = job_from_data(pin({**changes, **told})).shop.stock
    assert (stock.radius, stock.hole, stock.front, stock.assumed) == (radius, 18, 1, not told)
    assert stock.outline is not None
    arc = stock.outline.segments[0]
    assert isinstance(arc, Arc)
    assert not arc.ccw  # convex: its centre lies in the metal, which is outside the hole
