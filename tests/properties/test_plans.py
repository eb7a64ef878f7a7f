"""Random jobs: every plan holds everything that it promises, every refusal is right.

Each case is planned once and judged by `tests.oracle`, which shares no code with the program: no gouge, no more left
than asked, what is predicted, one slide a move, figures on their grid, bites and finishing cuts within their limits,
stations proven. `make soak` tries thousands more.
"""

import math
from collections import Counter
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from tests import oracle
from tests.properties.cases import KINDS, Seeded, dome, domes, form_jobs, outline, outlines, with_form_tool
from tests.properties.trial import attempt
from tests.properties.undercuts import UNDERCUTS, undercut, undercuts

from ovolo.documents.reading import job_from_data
from ovolo.plan.planner import make_plan
from ovolo.plan.stations.choose_tools import fewest_for
from ovolo.plan.view.frame import Frame

BITE_SHARE = 0.04
"""So many of the random outlines may be refused for their bite: a wide nose and a narrow bite can't always agree."""


def search(cases: int) -> settings:
    """A small sample of what `make soak` tries, the same each time; not made smaller, since a case costs a plan."""
    return settings(
        max_examples=cases,
        derandomize=True,
        phases=(Phase.explicit, Phase.generate),
        suppress_health_check=list(HealthCheck),
        deadline=None,
    )


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where jobs and plans are written for the other judge."""
    return tmp_path_factory.mktemp("plans")


@search(120)
@given(job=domes())
def test_domes(folder: Path, job: oracle.Data) -> None:
    trial = attempt(job, folder)
    assert trial.outcome == "planned", trial.complaint()


def test_outlines() -> None:
    """No outline is planned or refused wrongly, and few are refused."""
    outcomes = Counter[str]()

    @search(60)
    @given(job=outlines())
    def tried(job: oracle.Data) -> None:
        trial = attempt(job)
        outcomes[trial.outcome] += 1
        assert trial.outcome != "wrong", trial.complaint()

    tried()
    assert outcomes["bite"] <= max(1, BITE_SHARE * outcomes.total())
    assert outcomes["out of reach"] <= max(1, 0.1 * outcomes.total())


@search(20)
@given(job=form_jobs())
def test_form_tools(job: oracle.Data) -> None:
    trial = attempt(job)
    assert trial.outcome != "wrong", trial.complaint()


@search(12)
@given(job=undercuts())
def test_undercuts(job: oracle.Data) -> None:
    trial = attempt(job)
    assert trial.outcome != "wrong", trial.complaint()


@search(25)
@given(job=domes(), share=st.floats(0.4, 0.9))
def test_a_finer_ridge_never_takes_fewer_stations(job: oracle.Data, share: float) -> None:
    read = job_from_data(job)
    frame, tools, ridge = Frame(read), read.shop.tools, read.part.ridge
    coarse, fine = fewest_for(frame, tools, ridge), fewest_for(frame, tools, share * ridge)
    assert coarse is not None
    assert fine is None or fine >= coarse


@search(25)
@given(job=domes())
def test_finer_counts_never_take_more_stations(job: oracle.Data) -> None:
    """Half the count of both slides: every setting that could be made before can still be made."""
    halves = {name: {**table, "count": table["count"] / 2} for name, table in job["slide"].items()}
    before, after = job_from_data(job), job_from_data({**job, "slide": halves})
    coarse, fine = (fewest_for(Frame(j), j.shop.tools, j.part.ridge) for j in (before, after))
    assert coarse is not None
    assert fine is not None
    assert fine <= coarse


@search(15)
@given(job=domes(), share=st.floats(0.3, 0.8))
def test_a_finer_ridge_never_leaves_more(job: oracle.Data, share: float) -> None:
    read = job_from_data(job)
    finer = max(share * read.part.ridge, 2.5 * max(read.shop.cross.step, read.shop.saddle.step))
    coarse, fine = make_plan(read), make_plan(read, ridge=min(finer, read.part.ridge))
    assert fine.prediction.ridge_max <= coarse.prediction.ridge_max + oracle.AGREE
    assert fine.stations >= coarse.stations


@search(12)
@given(job=domes(), more=st.integers(1, 6))
def test_as_many_stations_as_asked(job: oracle.Data, more: int) -> None:
    """More stations than the ridge takes: that many are set, and none leaves more than it did."""
    read = job_from_data(job)
    plain = make_plan(read)
    asked = make_plan(read, stations=plain.stations + more)
    assert asked.stations <= plain.stations + more
    assert asked.job.part.ridge <= read.part.ridge + 1e-6
    assert asked.prediction.ridge_max <= asked.job.part.ridge + oracle.AGREE
    assert fewest_for(Frame(read), read.shop.tools, asked.job.part.ridge * 0.995) != asked.stations


@search(12)
@given(job=domes())
def test_conventions_change_figures_and_not_the_part(job: oracle.Data) -> None:
    """A readout that counts the other way round: the same moves, other figures."""
    cross, saddle = job["slide"]["cross"], job["slide"]["saddle"]
    turned = {
        "cross": {**cross, "grows": "in" if cross["grows"] == "out" else "out"},
        "saddle": {**saddle, "grows": "toward" if saddle["grows"] == "away" else "away"},
    }
    one, other = (make_plan(job_from_data(j)) for j in (job, {**job, "slide": turned}))
    assert [(m.start, m.end) for m in one.moves] == [(m.start, m.end) for m in other.moves]
    assert all(math.isclose(a.figure, -b.figure, abs_tol=1e-9) for a, b in zip(one.moves, other.moves, strict=True))


@pytest.mark.parametrize("kind", [*KINDS, *UNDERCUTS])
def test_every_kind_of_outline_is_a_job(kind: str) -> None:
    """The generators themselves: whatever they draw is well formed."""
    for seed in range(20):
        shape = (KINDS | UNDERCUTS)[kind](Seeded(seed))
        assert shape.tools
        assert shape.curve[0] > shape.curve[1]
        assert all(a != b for a, b in pairwise(shape.nodes))


@pytest.mark.parametrize("seed", range(3))
def test_a_seed_gives_the_same_job_each_time(seed: int) -> None:
    assert dome(Seeded(seed)) == dome(Seeded(seed))
    assert outline(Seeded(seed)) == outline(Seeded(seed))
    assert outline(Seeded(seed)) != outline(Seeded(seed + 1))
    assert with_form_tool(Seeded(seed)) == with_form_tool(Seeded(seed))
    assert undercut(Seeded(seed)) == undercut(Seeded(seed))
