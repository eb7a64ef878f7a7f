"""The fields of a job: what is read, and to what."""

import math

import pytest
from tests.documents.jobs import only_fault, pin

from ovolo.documents.job_model import JobFile, kind_of
from ovolo.documents.reading import job_from_data
from ovolo.documents.resolved import job_as_data
from ovolo.geometry.segments import Point
from ovolo.shop.pace import Pace


def test_lengths_are_read_to_millimetres_and_angles_to_radians() -> None:
    data = pin(
        {"units": "in", "sure": ["inches"], "stock.diameter": 2, "stock.proud": 0.5, "part.outline.2.z": "-30 mm"}
    )
    data["part"]["outline"] = [{"z": 0, "d": 1.5}, {"z": "-30 mm", "d": "1 1/2"}]
    data["part"]["curve"] = [0, -1]
    data["stock"]["stick_out"] = 3
    data["tool"].append({"name": "knife", "nose_radius": "1/64", "edge_angle": "95°", "point_angle": 35})
    job = job_from_data(data)
    assert job.shop.stock.radius == 25.4
    assert job.part.outline.end == Point(-30, 19.05)
    knife = job.shop.tools[1]
    assert knife.nose_radius == 25.4 / 64
    assert (knife.edge_angle, knife.point_angle) == pytest.approx((math.radians(95), math.radians(35)))


@pytest.mark.parametrize(
    ("unit", "ridge", "allowance", "bite", "count"),
    [("mm", 0.05, 0.2, 1.0, 0.01), ("in", 0.0508, 0.2032, 1.016, 0.0127)],
)
def test_defaults_follow_the_unit(unit: str, ridge: float, allowance: float, bite: float, count: float) -> None:
    job = job_from_data(pin({"units": unit, "sure": ["inches"]}))
    figures = (job.part.ridge, job.shop.allowance, job.shop.bite, job.shop.cross.count, job.shop.saddle.count)
    assert figures == pytest.approx((ridge, allowance, bite, count, count))
    assert (job.shop.cross.reads, job.shop.cross.grows, job.shop.saddle.grows) == ("diameter", "out", "away")
    assert (job.part.surface, job.shop.stock.hole) == ("outside", 0)


def test_a_tool_is_a_right_hand_knife_unless_it_says_otherwise() -> None:
    tool = job_from_data(pin({"tool.1": {"name": "knife", "nose_radius": 0.4}})).shop.tools[1]
    assert (tool.kind, tool.hand) == ("pointed", "right")
    assert (tool.edge_angle, tool.point_angle) == (math.radians(93), math.radians(55))


def test_slides_keep_all_that_is_known_of_them() -> None:
    data = pin()
    data["slide"] = {
        "cross": {"reads": "radius", "grows": "in", "count": 0.02, "per_turn": 2.5, "divisions": 125, "backlash": 0.1},
        "saddle": {"grows": "toward", "travel": 400, "lock": False},
    }
    shop = job_from_data(data).shop
    assert (shop.cross.on_dial, shop.cross.per_turn, shop.cross.backlash, shop.cross.factor) == (True, 2.5, 0.1, -1)
    assert (shop.saddle.on_dial, shop.saddle.travel, shop.saddle.lock, shop.saddle.factor) == (False, 400, False, -1)


@pytest.mark.parametrize(
    ("value", "says", "remedy"),
    [
        ("20", "a number is written as text", "Write it without quotes: 20"),
        ("7,25", "a number is written as text", "Write it without quotes: 7.25"),
        ("5/16", "a fraction without a unit is most likely in inches", "Write 5/16 in or 5/16 mm"),
        (True, "true or false stands where a length is wanted", "Write a number"),
        ([20], "a list stands where a length is wanted", "Write a number"),
        (math.nan, "it is not a finite number", "Write the figure that is meant"),
        (-math.inf, "it is not a finite number", "Write the figure that is meant"),
        (10**400, "it is not a finite number", "Write the figure that is meant"),
        (0, "it is zero", "Write a figure above 0"),
        (-20, "it is negative", "Write a figure above 0"),
        (1e5, "it is longer than any lathe", "Check the figure and the units of the job"),
        (
            "3 furlongs",
            "'furlongs' is not a unit of length, nor anything else that is read here",
            "Write one figure and its unit",
        ),
    ],
)
def test_what_is_no_length_is_refused(value: object, says: str, remedy: str) -> None:
    fault = only_fault({"stock.diameter": value})
    assert (fault.where, fault.says, fault.remedy) == ("stock.diameter", says, remedy)


@pytest.mark.parametrize(
    ("value", "limit"), [(180, "more than 0 and less than 180"), (0, "more than 0 and less than 180")]
)
def test_an_edge_stands_between_0_and_180_degrees(value: float, limit: str) -> None:
    fault = only_fault({"tool.0.edge_angle": value})
    assert (fault.where, fault.value, fault.limit) == ("tool[0].edge_angle", value, limit)


@pytest.mark.parametrize("name", ["", "   ", "x" * 201, "two\nlines", "bell\x07", 6])
def test_a_title_is_one_printable_line(name: object) -> None:
    assert only_fault({"title": name}).where == "title"


def test_every_field_says_what_it_is() -> None:
    for table in (JobFile, *(type_ for type_ in JobFile.__subclasses__())):
        assert table.__doc__
    for name in ("part", "stock", "tool"):
        inner = JobFile.model_json_schema()["$defs"][f"{name.title()}Table"]
        assert all("description" in field for field in inner["properties"].values())


def test_kinds_are_named_in_words() -> None:
    values: tuple[object, ...] = (1, 1.5, {}, None)
    assert [kind_of(value) for value in values] == ["a number", "a number", "a table", "nothing"]


@pytest.mark.parametrize(
    ("changes", "where", "says", "hint"),
    [
        ({"part.material": "mild stele"}, "part.material", "this material is not known", "mild steel"),
        ({"part.material": "xyz"}, "part.material", "this material is not known", "free-cutting steel"),
        ({"tool.0.material": "diamond"}, "tool[0].material", "", "carbide"),
        ({"tool.0.bar_diameter": 0}, "tool[0].bar_diameter", "it is zero", "above 0"),
        ({"lathe": {"motor_w": -550}}, "lathe.motor_w", "it is negative", "above 0"),
        ({"lathe": {"speeds": [70, math.inf]}}, "lathe.speeds[1]", "not a finite number", "figure that is meant"),
        ({"lathe": {"speeds": [70, "200"]}}, "lathe.speeds[1]", "text stands where a number", "Write a number"),
        ({"lathe": {"holding": "steady"}}, "lathe.holding", "", "chuck"),
        ({"lathe": {"power_feed": ["top"]}}, "lathe.power_feed[0]", "", "cross"),
        ({"lathe": {"power_feed": ["cross", "cross"]}}, "lathe.power_feed", "listed twice", "once"),
        ({"lathe": {"power_feed": "cross"}}, "lathe.power_feed", "", "list"),
        ({"lathe": {"motor": 550}}, "lathe.motor", "there is no such field", "motor_w"),
        ({"lathe": {"speeds": [900, 1800], "chuck_max_rpm": 800}}, "lathe.chuck_max_rpm", "too fast", "slower ones"),
    ],
)
def test_what_is_wrong_with_material_and_lathe_is_said(
    changes: dict[str, object], where: str, says: str, hint: str
) -> None:
    fault = only_fault(changes)
    assert fault.where == where
    assert says in fault.says
    assert hint in f"{fault.remedy} {fault.limit}"


def test_the_lathe_reaches_the_job() -> None:
    data = pin(
        {
            "part.material": "gun metal",
            "tool.0.material": "carbide",
            "tool.0.overhang": 40,
            "lathe": {"speeds": [360, 70, 200], "motor_w": 550, "chuck_max_rpm": 2000, "holding": "between centres"},
        }
    )
    lathe = job_from_data(data).shop.lathe
    assert list(lathe.speeds) == [70, 200, 360]
    assert lathe.motor_w == 550
    assert lathe.chuck_max_rpm == 2000
    assert lathe.holding == "between centres"
    assert lathe.cutter("round nose 6").material == "carbide"
    assert lathe.cutter("round nose 6").overhang == 40
    assert job_from_data(job_as_data(job_from_data(data))).shop.lathe == lathe


def test_the_pace_is_the_users_own_or_ours() -> None:
    assert job_from_data(pin()).shop.pace == Pace()
    told = job_from_data(
        pin({"pace": {"turn": 1, "setting": 0, "filing_mm3": 12.5}, "units": "in", "sure": ["inches"]})
    ).shop.pace
    assert told == Pace(turn=1.0, setting=0.0, filing=12.5)


@pytest.mark.parametrize(
    ("field", "value", "says"),
    [
        ("turn", -1, "it is negative"),
        ("setting", "8", "text stands where a time in seconds is wanted"),
        ("lock", 1e9, "nothing at a lathe takes so long"),
        ("measuring", float("nan"), "it is not a finite number"),
        ("tool_change", True, "true or false stands where a time in seconds is wanted"),
        ("filing_mm3", 0, "no file takes off metal at such a rate"),
        ("filing_mm3", 1e300, "no file takes off metal at such a rate"),
    ],
)
def test_what_is_no_pace_is_refused(field: str, value: object, says: str) -> None:
    fault = only_fault({f"pace.{field}": value})
    assert (fault.where, fault.says) == (f"pace.{field}", says)


def test_a_pace_that_is_not_known_is_an_error() -> None:
    fault = only_fault({"pace.turns": 2})
    assert (fault.where, fault.remedy) == ("pace.turns", "Did you mean turn?")
