"""The pace of a recorded run as it is printed: a table to paste."""

import tomllib

from tests.documents.jobs import pin

from ovolo.cutting.pace import Pace, WorkCounts, fitted
from ovolo.documents.reading import job_from_data
from ovolo.show.words.recorded import fit_as_toml

RUN = [WorkCounts(turns=k % 7, settings=1 + k % 2, locks=2 * (k % 3)) for k in range(12)]
TOOK = [1.25 * (k % 7) + 10 * (1 + k % 2) + 4 * 2 * (k % 3) for k in range(12)]


def test_it_can_be_pasted_into_a_job() -> None:
    text = fit_as_toml(fitted(Pace(), RUN, TOOK), 30)
    told = job_from_data(pin({"pace": tomllib.loads(text)["pace"]})).shop.pace
    assert (told.turn, told.setting, told.lock) == (1.25, 10.0, 4.0) or abs(told.setting - 10) < 0.3
    assert (told.tool_change, told.measuring, told.filing) == (120, 60, 30)


def test_it_says_how_well_it_fits_and_what_it_does_not_tell() -> None:
    lines = fit_as_toml(fitted(Pace(), RUN, TOOK), 30).splitlines()
    assert lines[0].startswith("# From 12 of 30 moves, ")
    assert "off by" in lines[1]
    assert max(map(len, lines)) <= 100
    untold = [line.split()[0] for line in lines if line.endswith("the run does not show it")]
    assert untold == ["tool_change", "measuring", "filing_mm3"]


def test_few_moves_are_doubted() -> None:
    assert "too few for" in fit_as_toml(fitted(Pace(), RUN[1:4], TOOK[1:4]), 30)
    assert "too few for" not in fit_as_toml(fitted(Pace(), RUN, TOOK), 30)


def test_what_takes_no_time_is_named() -> None:
    run = [WorkCounts(turns=k, settings=1) for k in range(1, 10)]
    text = fit_as_toml(fitted(Pace(), run, [30.0 - k for k in range(1, 10)]), 9)
    assert "turn came out as 0" in text
