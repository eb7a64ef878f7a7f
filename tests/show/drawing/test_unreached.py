"""The drawing of a refusal: marked, labelled, the nearest tool at its place, in every look and on any paper."""

import re
from functools import cache
from typing import Any
from xml.etree import ElementTree

import pytest
from tests.plan.report.test_unreached import GROOVE, REFUSED

from ovolo.documents.reading import job_from_data
from ovolo.plan.report.unreached import unreached
from ovolo.show.drawing.half_section import Area
from ovolo.show.drawing.unreached import UnreachedView, draw_unreached, unreached_as_svg, unreached_view
from ovolo.show.paper.lettering import breadth
from ovolo.show.paper.style import INKS, Mode, style
from ovolo.show.paper.svg import document

PHONE, DESK, BROAD = (97.0, 98.0), (200.0, 138.0), (300.0, 120.0)


def _view(data: dict[str, Any]) -> UnreachedView:
    job = job_from_data(data)
    return unreached_view(job, unreached(job))


@cache
def _refused(name: str) -> UnreachedView:
    return _view(REFUSED[name])


def _elements(svg: str, cls: str) -> list[ElementTree.Element]:
    return [e for e in ElementTree.fromstring(svg).iter() if cls in (e.get("class") or "").split()]


def _texts(svg: str) -> list[ElementTree.Element]:
    return [e for e in ElementTree.fromstring(svg).iter() if e.tag.endswith("}text")]


def _words(svg: str) -> str:
    return " | ".join(e.text or "" for e in _texts(svg))


@pytest.mark.parametrize("mode", INKS)
@pytest.mark.parametrize("name", REFUSED)
def test_the_stretch_is_marked_hatched_and_labelled(name: str, mode: Mode) -> None:
    view = _refused(name)
    svg = unreached_as_svg(view, mode=mode)
    assert INKS[mode].ground in svg
    assert len(_elements(svg, "unreached")) >= len(view.stretches)
    assert all(e.get("d") for e in _elements(svg, "unreached"))
    assert any(e.get("d") for e in _elements(svg, "to-go-hatch"))
    words = _words(svg).replace("−", "-")
    for s in view.stretches:
        for p in (s.begin, s.end):
            assert f"z {p.x:.4g}, Ø {2 * p.y:.4g}" in words
        assert f"{s.length:.3g} mm long" in words
        assert f"{s.short:.3g} mm short" in words


def test_what_it_says_names_the_tool_and_what_stops_it() -> None:
    (said,) = _refused("groove").said
    assert "The nearest tool, blade, is stopped by its edge and its shank up to 1.25 mm short of it." in said
    assert "is stopped by its boring bar" in _refused("cove").said[0]


def test_several_places_are_numbered() -> None:
    view = _refused("balls")
    assert len(view.stretches) > 1
    assert view.said[0] == f"No tool of the drawer reaches {len(view.stretches)} places of the outline."
    heads = [e.text for e in _texts(unreached_as_svg(view)) if re.match(r"[12] \(", e.text or "")]
    assert len(heads) == len(view.stretches)


def test_an_inch_job_is_labelled_in_inches() -> None:
    """The bar reaches to r 0.41, the stem is 0.16 long, the floor lies at r 0.2: 0.05 are missing."""
    places = ((0, 0.8), (-0.2, 0.8), (-0.2, 0.4), (-0.36, 0.4), (-0.36, 0.8), (-0.8, 0.8))
    outline = [{"z": z, "d": d} for z, d in places]
    blade = {**GROOVE["tool"][0], "nose_radius": 0.004, "width": 0.12, "stem": 0.16, "shank": 0.5}
    job = {"title": "Drum", "units": "in", "part": {"outline": outline, "curve": [-0.2, -0.36]}, "tool": [blade]}
    view = _view({**job, "stock": {"diameter": 0.82}, "limits": {"bite": 0.14}})
    assert re.search(r" up to 0\.05\d* in short of it", view.said[0])
    words = _words(unreached_as_svg(view)).replace("−", "-")
    assert "z -0.36, Ø 0.5" in words
    assert "inches" in words


@pytest.mark.parametrize("size", [PHONE, DESK, BROAD], ids=["phone", "desk", "broad"])
@pytest.mark.parametrize("name", REFUSED)
def test_on_a_screen_every_word_stays_within(name: str, size: tuple[float, float]) -> None:
    width, height = size
    pieces, scale = draw_unreached(_refused(name), Area(1, 1, width - 2, height - 2), key="page")
    assert scale > 0
    for e in _texts(document(width, height, "", "", pieces, style("page"))):
        x, wide = float(e.get("x") or 0), breadth(e.text or "", float(e.get("font-size") or 0))
        left = x - {None: 0.0, "start": 0.0, "middle": 0.5, "end": 1.0}[e.get("text-anchor")] * wide
        assert -0.5 <= left <= left + wide <= width + 0.5, e.text
        assert 0 <= float(e.get("y") or 0) <= height, e.text


def test_what_fits_no_detail_is_still_numbered_and_told() -> None:
    view = _refused("balls")
    width, height = PHONE
    pieces, _ = draw_unreached(view, Area(1, 1, width - 2, height - 2), key="page")
    svg = document(width, height, "", "", pieces, style("page"))
    numbers = [e.text for e in _texts(svg) if (e.text or "").isdigit()]
    assert numbers == [str(k) for k in range(1, len(view.stretches) + 1)]
    assert len(view.said) == 1 + len(view.stretches)
