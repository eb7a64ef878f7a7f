"""The methods drawn side by side: true departures, one scale, words that keep to their panels."""

import math
import re
from xml.etree import ElementTree

import pytest
from tests.documents.jobs import pin

from ovolo.documents.reading import job_from_data
from ovolo.geometry.segments import Point
from ovolo.plan.model import Plan
from ovolo.plan.planner import make_plan
from ovolo.predict.methods.compare import compare
from ovolo.show.drawing.methods_drawing import MethodsDrawing, departures, methods_as_svg, methods_drawing
from ovolo.show.paper.svg import text_box

BORE = {
    "part.surface": "bore",
    "part.outline": [{"z": 0, "d": 36}, {"z": -6, "d": 24, "convex": 6}, {"z": -20, "d": 24}],
    "part.curve": [0, -6],
    "stock": {"diameter": 45, "hole": 22, "stick_out": 30},
    "tool.0": {"name": "boring bar", "nose_radius": 0.8},
}


@pytest.fixture(scope="module")
def made() -> Plan:
    return make_plan(job_from_data(pin({"part.material": "mild steel"})))


@pytest.fixture(scope="module")
def drawn(made: Plan) -> MethodsDrawing:
    return methods_drawing(made, compare(made))


def _ball(radius: float) -> list[Point]:
    turns = [k * math.pi / 128 for k in range(65)]
    return [Point(-9 + radius * math.cos(turn), radius * math.sin(turn)) for turn in turns]


@pytest.mark.parametrize("off", [0.05, -0.03])
def test_a_ball_too_large_or_too_small_departs_alike_all_along(made: Plan, off: float) -> None:
    seen = departures(made, _ball(9 + off), 1.0)
    assert len(seen) > 60
    assert all(one.height == pytest.approx(off, abs=2e-3) for one in seen)
    places = [one.foot.x for one in seen]
    assert places == sorted(places, reverse=True)


def test_in_a_bore_metal_left_stands_toward_the_axis() -> None:
    plan = make_plan(job_from_data(pin(BORE)))
    turns = [math.pi / 2 + k * math.pi / 128 for k in range(1, 64)]
    shape = [Point(-6 + 6.04 * math.sin(turn), 18 + 6.04 * math.cos(turn)) for turn in turns]
    seen = departures(plan, shape, 1.0)
    assert seen
    assert all(one.height == pytest.approx(0.04, abs=2e-3) for one in seen)
    highest = {
        p.card.name: max((d.height for d in p.departures), default=0)
        for p in methods_drawing(plan, compare(plan)).panels
    }
    assert highest["single-slide steps"] == pytest.approx(plan.prediction.ridge_max, abs=2e-3)


def test_what_is_no_part_of_the_curve_is_left_out(made: Plan) -> None:
    assert departures(made, [Point(-10, 9.01), Point(-20, 9.01)], 1.0) == ()
    assert departures(made, _ball(9.5), 0.1) == ()
    assert departures(made, [], 1.0) == ()


def test_the_steps_show_the_ridge_of_the_plan(drawn: MethodsDrawing) -> None:
    steps, _, wound = drawn.panels[:3]
    top = max(one.height for one in steps.departures)
    assert top == pytest.approx(drawn.plan.prediction.ridge_max, abs=2e-3)
    assert min(one.height for one in wound.departures) < -0.05
    assert drawn.largest >= -min(one.height for one in wound.departures)


def test_where_the_surface_is_not_known_a_band_stands_for_it(drawn: MethodsDrawing) -> None:
    for panel in drawn.panels:
        assert (panel.band > 0) == (panel.card.can and not panel.departures), panel.card.name
    filed = drawn.panels[-1]
    assert 2 * filed.band == pytest.approx(float(filed.card.error))


def test_the_picture_is_well_formed_and_states_its_scale(drawn: MethodsDrawing) -> None:
    svg = methods_as_svg(drawn)
    words = [node.text or "" for node in ElementTree.fromstring(svg).iter("{http://www.w3.org/2000/svg}text")]
    for panel in drawn.panels:
        assert panel.card.name in words
    assert "5 : 1" in words
    assert any(re.match(r"Departures are drawn \d+ times as large", line) for line in words)
    assert not any(line.endswith("…") for line in words)


@pytest.mark.parametrize("changes", [{"part.material": "mild steel"}, BORE, {"units": "in", "part.outline": [
    {"z": 0, "d": 0}, {"z": -0.375, "d": 0.75, "convex": 0.375}, {"z": -1, "d": 0.75}], "part.curve": [0, -0.375],
    "stock": {"diameter": 0.8, "proud": 0.02}, "tool.0.nose_radius": 0.125}])  # fmt: skip
def test_no_words_overlap(changes: dict[str, object]) -> None:
    plan = make_plan(job_from_data(pin(changes)))
    svg = methods_as_svg(methods_drawing(plan, compare(plan)))
    boxes = []
    for node in ElementTree.fromstring(svg).iter("{http://www.w3.org/2000/svg}text"):
        size = float(node.get("font-size", "0"))
        at = float(node.get("x", "0")), float(node.get("y", "0")) - 0.33 * size
        boxes.append((node.text, text_box(at, node.text or "", 0.9 * size, "start")))
    for k, (one, a) in enumerate(boxes):
        assert a[0] >= 20
        assert a[2] <= 287
        for other, b in boxes[k + 1 :]:
            apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
            assert apart, (one, other)
