"""Planning: against one sweep of the same plan, and how it grows with stations and with segments."""

import pytest
import shapely
from pytest_benchmark.fixture import BenchmarkFixture
from tests import oracle

from benchmarks.jobs import Data, dome, read, waves
from ovolo.documents.plan.document import plan_as_data
from ovolo.plan import previews
from ovolo.plan.model import Plan
from ovolo.plan.planner import make_plan

PIN = read(dome())


def _swept(setup: oracle.Setup, moves: list[Data]) -> float:
    """Every move of a plan taken from the blank, one after the other, by shapely alone."""
    rest = setup.blank
    for track in oracle.tracks_of(setup, moves):
        rest = shapely.difference(rest, track)
    return float(rest.area)


@pytest.mark.benchmark(group="a dome: planned, against one sweep of its plan")
def test_one_sweep(benchmark: BenchmarkFixture) -> None:
    benchmark.extra_info["baseline"] = True
    moves, setup = plan_as_data(make_plan(PIN))["moves"], oracle.set_up(dome())
    assert benchmark(_swept, setup, moves) < setup.blank.area


@pytest.mark.benchmark(group="a dome: planned, against one sweep of its plan")
def test_full_plan(benchmark: BenchmarkFixture) -> None:
    benchmark.extra_info["aim_ms"] = 300
    plan: Plan = benchmark(make_plan, PIN)
    assert plan.stations == plan.fewest


@pytest.mark.benchmark(group="a dome: planned, against one sweep of its plan")
def test_preview_while_a_slider_is_dragged(benchmark: BenchmarkFixture) -> None:
    """A ridge never asked for before each time, so that nothing found earlier helps."""
    benchmark.extra_info["aim_ms"] = 50
    ridge = iter(0.05 + 1e-5 * k for k in range(1_000_000))
    found = benchmark(lambda: previews.preview(PIN, next(ridge)))
    assert found is not None
    assert found.stations > 5


def _planned(benchmark: BenchmarkFixture, data: Data, size: str, aim: float | None = None) -> None:
    job = read(data)
    plan: Plan = benchmark.pedantic(make_plan, args=(job,), rounds=1 if len(data["part"]["outline"]) > 60 else 3)  # type: ignore[no-untyped-call]
    segments = len(job.part.outline.segments)
    benchmark.extra_info["n"] = plan.stations if size == "stations" else segments
    benchmark.extra_info["aim_ms"] = aim
    benchmark.extra_info["moves"] = len(plan.moves)


@pytest.mark.benchmark(group="growth with stations, on ever longer waves of one size")
@pytest.mark.parametrize("stations", [10, 30, 100, 300, 1000, 3000])
def test_stations(benchmark: BenchmarkFixture, stations: int) -> None:
    """A new arc every ten stations, so that the work to rough grows in proportion too."""
    _planned(benchmark, waves(max(2, stations // 10), stations), "stations")


@pytest.mark.benchmark(group="growth with segments, about 1,000 stations each")
@pytest.mark.parametrize("segments", [4, 12, 32, 100, 300])
def test_segments(benchmark: BenchmarkFixture, segments: int) -> None:
    _planned(benchmark, waves(segments), "segments", 1000 if segments == 100 else None)
