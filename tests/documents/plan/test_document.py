"""The plan as a document: the pinned names, the rounding, the checksum."""

import itertools
import json
from dataclasses import replace

from tests.documents.jobs import pin
from tests.documents.plans import plan

from ovolo.documents.plan.document import canonical, checksum, plan_as_data, plan_as_json, rounded
from ovolo.documents.plan.model import PlanFile
from ovolo.documents.reading import job_from_data
from ovolo.plan.planner import make_plan
from ovolo.predict.loads.load import loads
from ovolo.predict.loads.spindle import hand_turns


def test_it_has_the_pinned_shape() -> None:
    data = plan_as_data(plan())
    assert (data["format"], data["version"]) == ("ovolo-plan", 1)
    assert {"job", "before", "moves", "stations", "fewest", "proof", "prediction"} <= set(data)
    assert data["before"][1] == {"move": 4, "kind": "measure", "text": "Measure one diameter"}
    assert data["proof"] == {"fewer": 0, "leaves": None}
    assert data["job"]["units"] == "mm"
    assert data["moves"][1] == {
        "n": 2, "stage": "rough", "tool": "round nose 6", "slide": "saddle", "from": [4.5, 12.2], "to": [-21.6, 12.2],
        "cuts": True, "set": -24.6, "shown": "-24.600", "within": 0.0456, "removes_mm2": 18.8, "bite": 0.95,
        "feed_off": {"set": -23.6, "shown": "-23.6", "by_hand": 1.0},
    }  # fmt: skip


def test_only_a_move_that_completes_a_station_carries_its_number() -> None:
    assert [move.get("station") for move in plan_as_data(plan())["moves"]] == [None, None, None, None, 1]


def test_each_move_starts_where_the_last_ended() -> None:
    moves = plan_as_data(plan())["moves"]
    assert all(one["to"] == other["from"] for one, other in itertools.pairwise(moves))


def test_positions_are_rounded_and_never_minus_zero() -> None:
    made = plan()
    move = replace(made.moves[-1], end=made.moves[-1].end._replace(x=2.123456789, y=-1e-9), figure=-0.0)
    text = plan_as_json(replace(made, moves=(*made.moves[:-1], move)))
    assert "[2.12346, 0.0]" in text
    assert "-0.0," not in text
    assert "-0.0]" not in text


def test_figures_stay_in_the_units_of_the_job() -> None:
    changes = {"units": "in", "sure": ["inches"], "stock.diameter": 40, "slide.cross": {"grows": "in"}}
    assert plan_as_data(plan(changes))["units"] == "in"


def test_the_text_is_json_with_a_move_a_line() -> None:
    text = plan_as_json(plan())
    assert json.loads(text) == plan_as_data(plan())
    assert sum(line.startswith('  {"n": ') for line in text.splitlines()) == 5


def test_the_checksum_tells_plans_apart() -> None:
    data = plan_as_data(plan())
    assert data["checksum"] == checksum(data) == plan_as_data(plan())["checksum"]
    moved = plan()
    moved = replace(moved, moves=(replace(moved.moves[0], figure=18.41), *moved.moves[1:]))
    assert plan_as_data(moved)["checksum"] != data["checksum"]


def test_the_checksum_is_that_of_the_published_vector() -> None:
    """SHA-256 of "{}" begins with 44136fa3 (FIPS 180-4, computed by hand of another implementation: sha256sum)."""
    assert canonical({}) == "{}"
    assert checksum({}) == "44136fa3"


def test_the_checksum_sees_a_nanometre_and_nothing_less() -> None:
    assert checksum({"a": [1.0, {"b": 2.0000004}]}) == checksum({"a": (1, {"b": 2})})
    assert checksum({"a": 1.000001}) != checksum({"a": 1.0})
    assert checksum({"a": True}) != checksum({"a": 1})


def test_rounding_leaves_no_minus_zero() -> None:
    assert str(rounded(-1e-9, 5)) == "0.0"


def test_every_cutting_move_carries_its_load_where_the_material_is_named() -> None:
    made = make_plan(job_from_data(pin({"part.material": "mild steel"})))
    moves = plan_as_data(made)["moves"]
    for move in moves:
        assert ({"force_n", "power_w", "bends_mm"} <= set(move)) == move["cuts"]
    heaviest = max((move for move in moves if move["cuts"]), key=lambda move: move["force_n"])
    assert heaviest["stage"] == "rough"
    assert 400 < heaviest["force_n"] < 1780 * 2.8 * 0.1**0.83 * 1.1  # Kienzle's law for the widest plunge at 0.1 a turn
    assert not any("force_n" in move for move in plan_as_data(make_plan(job_from_data(pin())))["moves"])


def test_without_a_stick_out_there_is_no_bending() -> None:
    data = pin({"part.material": "brass"})
    del data["stock"]["stick_out"]
    moves = plan_as_data(make_plan(job_from_data(data)))["moves"]
    assert any("force_n" in move for move in moves)
    assert not any("bends_mm" in move for move in moves if move.get("force_n"))


def _speeds(changes: dict[str, object]) -> list[dict[str, object]]:
    data = plan_as_data(make_plan(job_from_data(pin(changes))))
    return [before for before in data["before"] if before["kind"] == "speed"]


def test_the_speed_stands_ahead_of_the_first_roughing_and_the_first_finishing_move() -> None:
    made = make_plan(
        job_from_data(
            pin(
                {
                    "part.material": "mild steel",
                    "lathe.speeds": [130, 450, 800],
                    "slide.cross": {"per_turn": 2},
                }
            )
        )
    )
    data = plan_as_data(made)
    speeds = [before for before in data["before"] if before["kind"] == "speed"]
    firsts = [next(move.n for move in made.moves if move.stage == stage) for stage in ("rough", "finish")]
    assert [before["move"] for before in speeds] == firsts
    assert [before["move"] for before in data["before"]] == sorted(before["move"] for before in data["before"])
    for before, run in zip(speeds, loads(made).turnings, strict=True):
        assert before["text"].startswith(f"Spindle at {run.rpm:.0f} rev/min")
        assert run.rpm in (130, 450, 800)
        turns = hand_turns(run, made.job.shop.cross)
        assert turns is not None
        assert f"the cross slide about {float(f'{turns:.2g}'):g} turns/min" in before["text"]
        assert "the saddle about" in before["text"]
        assert before["text"].endswith("mm a minute")
    assert data["checksum"] == checksum(data)
    PlanFile.model_validate(data)


def test_without_a_material_no_speed_is_said() -> None:
    assert _speeds({}) == []


def test_an_inch_job_is_wound_in_inches() -> None:
    outline = [{"z": 0, "d": 0}, {"z": -0.375, "d": 0.75, "convex": 0.375}, {"z": -1, "d": 0.75}]
    changes = {
        "units": "in",
        "part": {"outline": outline, "curve": [0, -0.375], "material": "brass"},
        "stock": {"diameter": 0.8, "proud": 0.02},
        "tool.0.nose_radius": 0.125,
    }
    texts = [str(before["text"]) for before in _speeds(changes)]
    assert len(texts) == 2
    assert all(" in a minute" in text and " mm" not in text for text in texts)
