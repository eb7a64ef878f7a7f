"""The tables of a job that Check reads."""

from tests.documents.jobs import faults, only_fault, pin

from ovolo.documents.reading import job_from_data
from ovolo.documents.resolved import job_as_data, job_as_toml
from ovolo.shop.instruments import Instrument
from ovolo.shop.setting_errors import SettingErrors


def test_a_job_that_says_nothing_gets_the_usual_errors_and_owns_nothing() -> None:
    shop = job_from_data(pin()).shop
    assert shop.errors == SettingErrors(0.005, 0.01, 0.01, 0.02, 0.05, 0.02)
    assert shop.instruments == ()


def test_what_is_given_stands_beside_what_is_usual() -> None:
    changes = {
        "errors": {"setting": {"cross": 0.004}, "nose": 0.05},
        "measure": [
            {"name": "0 to 25", "kind": "micrometer"},
            {"name": "old", "kind": "caliper", "over": 0, "u": 0.05},
        ],
        "tool.0.least_cut": 0.02,
    }
    shop = job_from_data(pin(changes)).shop
    assert shop.errors == SettingErrors(setting_cross=0.004, nose=0.05)
    assert shop.instruments == (
        Instrument("0 to 25", "micrometer", 6.3, 0.003, 0.1),
        Instrument("old", "caliper", 0.0, 0.05, 0.1),
    )
    assert shop.lathe.cutter("round nose 6").thinnest == 0.02


def test_a_resolved_job_reads_back_in_inches_too() -> None:
    changes = {"units": "in", "errors": {"touching": {"saddle": 0.001}}, "measure": [{"name": "m", "kind": "gauge"}]}
    small = {"part.outline": [{"z": 0, "d": 0.5}, {"z": -1, "d": 0.5}], "part.curve": [0, -1], "stock.diameter": 0.75}
    job = job_from_data(pin({**changes, **small, "tool.0.nose_radius": 0.1, "stock.proud": 0, "stock.stick_out": 2}))
    assert job_from_data(job_as_data(job)).shop.errors == job.shop.errors
    assert "[[measure]]" in job_as_toml(job)


def test_what_is_wrong_is_named() -> None:
    assert only_fault({"errors": {"height": -1}}).where == "errors.height"
    found = faults(pin({"measure": [{"name": "x", "kind": "ruler"}, {"kind": "caliper"}]}))
    assert {fault.where for fault in found} == {"measure[0].kind", "measure[1].name"}
