"""Every example: it plans, it comes back the same from its resolved form, and an independent judge finds nothing.

The judge stands beside the checkout where the project is developed; where it isn't there, its part is skipped.
"""

import functools
import importlib.util
import itertools
import math
import sys
import tomllib
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import pytest

from ovolo.documents.plan.document import plan_as_json
from ovolo.documents.reading import job_from_data, read_job
from ovolo.documents.resolved import job_as_toml
from ovolo.geometry.segments import Arc, Segment
from ovolo.plan.model import Plan
from ovolo.plan.planner import make_plan

ROOT = Path(__file__).parents[1]
EXAMPLES = sorted((ROOT / "examples").glob("*.toml"))
JUDGE = ROOT.parent / "shared" / "verify_plan.py"

SMOOTH = ("bridge-pin", "handle", "hinge-pin-dials", "lamp-finial", "tapered-dowel", "winch-lever")
"""Examples that say that each arc of the outline is tangent to what it joins."""

MOST_MOVES = 200
"""More than this in one sitting and nobody would do it."""

example = pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)


@functools.cache
def plan_of(path: Path) -> Plan:
    return make_plan(read_job(path))


def test_there_is_one_of_every_kind() -> None:
    assert len(EXAMPLES) >= 11
    assert {f"{name}.toml" for name in SMOOTH} <= {path.name for path in EXAMPLES}


def test_one_tells_its_lathe_and_its_owners_pace() -> None:
    shop = read_job(ROOT / "examples" / "winch-lever.toml").shop
    assert shop.pace != type(shop.pace)()
    assert shop.lathe.speeds
    assert shop.lathe.motor_w


def test_there_are_castings_in_and_out_and_work_between_centres() -> None:
    jobs = [read_job(path) for path in EXAMPLES]
    assert {job.part.surface for job in jobs if job.shop.stock.outline is not None} == {"outside", "bore"}
    assert {job.shop.lathe.holding for job in jobs} == {"chuck", "chuck and centre", "between centres"}


@example
def test_it_keeps_to_the_ridge_with_the_fewest_stations(path: Path) -> None:
    plan = plan_of(path)
    assert plan.stations == plan.fewest or (plan.job.shop.by is not None and plan.stations > plan.fewest)
    assert plan.prediction.ridge_max <= plan.job.part.ridge
    assert plan.prediction.gouge_max < 1.5e-3
    assert plan.proof.leaves is None or plan.proof.leaves > plan.job.part.ridge


@example
def test_a_person_would_do_it(path: Path) -> None:
    assert len(plan_of(path).moves) <= MOST_MOVES


@example
def test_it_comes_back_from_its_resolved_form(path: Path) -> None:
    job = read_job(path)
    assert job_from_data(tomllib.loads(job_as_toml(job))) == job


@example
def test_it_speaks_to_a_newcomer(path: Path) -> None:
    lines = path.read_text(encoding="utf-8").splitlines()
    assert lines[0].startswith("# ")
    assert max(map(len, lines)) <= 120
    assert path.name in (ROOT / "docs" / "examples.md").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", SMOOTH)
def test_pieces_said_to_be_tangent_are(name: str) -> None:
    segments = read_job(ROOT / "examples" / f"{name}.toml").part.outline.segments
    joints = [pair for pair in itertools.pairwise(segments) if any(isinstance(piece, Arc) for piece in pair)]
    turns = [_turn(before, after) for before, after in joints]
    assert max(turns) < 1e-6


def _turn(before: Segment, after: Segment) -> float:
    """The angle at a joint, radians."""
    a, b = before.tangent(before.length), after.tangent(0)
    return abs(math.atan2(a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y))


@pytest.fixture(scope="module")
def judge() -> Callable[[Path, Path], tuple[list[str], Mapping[str, Any]]]:
    if not JUDGE.is_file():
        pytest.skip("the judge is not beside this checkout")
    spec = importlib.util.spec_from_file_location("verify_plan", JUDGE)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    before, sys.dont_write_bytecode = sys.dont_write_bytecode, True
    try:
        spec.loader.exec_module(module)
    finally:
        sys.dont_write_bytecode = before
    found: Callable[[Path, Path], tuple[list[str], Mapping[str, Any]]] = module.judge
    return found


def _judged(path: Path) -> bool:
    shop = read_job(path).shop
    return shop.stock.outline is None and all(tool.kind in ("round", "pointed") for tool in shop.tools)


JUDGED = [path for path in EXAMPLES if _judged(path)]
"""Those whose tools and stock the judge knows; the second opinion of the tests knows all of them."""


@pytest.mark.parametrize("path", JUDGED, ids=lambda path: path.stem)
def test_the_judge_finds_nothing(
    path: Path, judge: Callable[[Path, Path], tuple[list[str], Mapping[str, Any]]], tmp_path: Path
) -> None:
    written = tmp_path / "plan.json"
    written.write_text(plan_as_json(plan_of(path)), encoding="utf-8")
    faults, _ = judge(_with_points(path, tmp_path), written)
    assert faults == []


def _with_points(path: Path, folder: Path) -> Path:
    """The job itself; one that is drawn by forms as resolved, for the judge reads points alone."""
    if "form" not in tomllib.loads(path.read_text(encoding="utf-8"))["part"]:
        return path
    resolved = folder / path.name
    resolved.write_text(job_as_toml(read_job(path)), encoding="utf-8")
    return resolved
