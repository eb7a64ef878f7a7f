"""The scene of a plan: one shape a cut, one mark a setting, well-formed, and the metal adds up."""

import re
from dataclasses import replace
from xml.etree import ElementTree

import pytest
import shapely
from tests.show.pages.examples import NAMES, document, plan

from ovolo.documents.reading import job_from_data
from ovolo.plan.planner import make_plan
from ovolo.show.pages.scene import box_of, feet, scene
from ovolo.show.paper.cuts import Cuts

SVG = "{http://www.w3.org/2000/svg}"


@pytest.mark.parametrize("name", NAMES)
def test_every_cut_and_every_setting_is_there_once(name: str) -> None:
    made = plan(name)
    root = ElementTree.fromstring(scene(Cuts(made)))
    chips = [int(e.attrib["data-n"]) for e in root.iter(f"{SVG}path") if e.attrib["class"].startswith("chip")]
    assert len(chips) == len(set(chips))
    big = {move.n for move in made.moves if move.area > 1e-2}
    assert set(chips) >= big
    assert set(chips) <= {move.n for move in made.moves if move.area > 0}
    marks = [int(e.attrib["data-setting"]) for e in root.iter(f"{SVG}g") if e.attrib.get("class") == "setting"]
    assert sorted(marks) == list(range(1, made.stations + 1))
    assert [e.attrib["data-tool"] for e in root.iter(f"{SVG}g") if e.attrib.get("class") == "tool-at"] == [
        str(i) for i in range(len(made.tools))
    ]


@pytest.mark.parametrize("name", NAMES)
def test_settings_touch_the_outline(name: str) -> None:
    made = plan(name)
    line = shapely.LineString(made.job.part.outline.flattened(1e-5))
    for _, z, r in feet(made):
        assert shapely.distance(line, shapely.Point(z, r)) < 1e-4


@pytest.mark.parametrize("name", NAMES)
def test_the_whole_part_is_in_the_box(name: str) -> None:
    made = plan(name)
    left, top, width, height = box_of(made)
    x0, _, x1, y1 = made.job.part.outline.bounds()
    assert left < x0
    assert x1 < left + width
    assert top < -y1
    assert y1 < top + height


@pytest.mark.parametrize("name", ["bronze-bush", "bridge-pin"])
def test_a_hole_is_cut_open_in_both_halves(name: str) -> None:
    """Its metal reaches down to the other side of the bar; a solid part is seen from the side there."""
    made = plan(name)
    metal = [
        e.attrib["d"]
        for e in ElementTree.fromstring(scene(Cuts(made))).iter(f"{SVG}path")
        if e.attrib["class"] == "metal"
    ]
    down = [float(y) for d in metal for y in re.findall(r"[ML]\S+ ([-0-9.]+)", d)]
    stock = made.job.shop.stock
    assert max(down) == pytest.approx(stock.radius if name == "bronze-bush" else 0.0)
    assert min(down) == pytest.approx(-stock.radius)


def test_a_title_is_text_and_no_markup() -> None:
    made = plan()
    job = type(made.job)('<script>"&', made.job.part, made.job.shop)
    text = scene(Cuts(replace(made, job=job)))
    assert "<script>" not in text
    ElementTree.fromstring(text)


def _paths(root: ElementTree.Element, group: str) -> list[tuple[str, str]]:
    found = [g for g in root.iter(f"{SVG}g") if g.attrib.get("class") == group]
    return [(e.attrib["class"], e.attrib["d"]) for g in found for e in g.iter(f"{SVG}path")]


def test_the_centre_stands_in_the_end_where_the_job_tells_of_one() -> None:
    """Its mouth of 4 lies 1 mm out, so the tip of its 60 degrees at 1 - 2 sqrt 3; its body is 17.8."""
    ground, thin = _paths(ElementTree.fromstring(scene(Cuts(plan("winch-handle")))), "centre")
    assert (ground[0], thin[0]) == ("ground", "thin")
    assert ground[1].startswith(f"M{1 - 2 * 3**0.5:.4f} 0L")
    assert " -8.9L" in ground[1]
    assert "The tailstock's centre" not in scene(Cuts(plan("bridge-pin")))


def test_shank_and_bar_are_carried_along_and_the_edges_end_there() -> None:
    bar = {"name": "bar", "nose_radius": 0.8, "stands_out": 3, "bar_diameter": 9, "overhang": 40}
    made = make_plan(job_from_data({**document("bronze-bush"), "tool": [bar]}))
    fill, _, body, edge, _ = _paths(ElementTree.fromstring(scene(Cuts(made))), "tool-at")
    assert body[1] == edge[1]
    assert (body[0], edge[0]) == ("tool-fill", "tool-thin")
    levels = [float(y) for y in re.findall(r"[ML]\S+ ([-0-9.]+)", body[1])]
    assert max(levels) - min(levels) == pytest.approx(9)
    edges = [float(y) for y in re.findall(r"[ML]\S+ ([-0-9.]+)", fill[1])]
    assert max(edges) == pytest.approx(3 - 0.8, abs=2e-3)  # SVG counts downward: the bar lies toward the axis
    assert min(edges) == pytest.approx(-0.8, abs=2e-3)
