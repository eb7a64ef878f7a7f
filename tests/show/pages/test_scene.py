"""The scene of a plan: one shape a cut, one mark a setting, well-formed, and the metal adds up."""

from xml.etree import ElementTree

import pytest
import shapely
from tests.show.pages.examples import NAMES, plan

from ovolo.show.cuts import Cuts
from ovolo.show.pages.scene import box_of, feet, scene

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


def test_a_title_is_text_and_no_markup() -> None:
    made = plan()
    job = type(made.job)('<script>"&', made.job.part, made.job.shop)
    text = scene(Cuts(type(made)(**{**made.__dict__, "job": job})))
    assert "<script>" not in text
    ElementTree.fromstring(text)
