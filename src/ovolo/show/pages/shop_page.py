"""The page Shop: every tool drawn to scale, and how each slide reads, in words."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, get_args

from ovolo.documents.job_model import Sure
from ovolo.documents.reading import job_from_data
from ovolo.errors import FaultsFound
from ovolo.shop.slides import Slide
from ovolo.show.pages.tool_picture import tool_picture

__all__ = ["shop_page", "slide_in_words"]

_PART = {"outline": [{"z": 0, "d": "1 mm"}, {"z": "-1 mm", "d": "1 mm"}], "curve": [0, "-1 mm"]}


def shop_page(document: Mapping[str, Any]) -> dict[str, Any]:
    """All that the page shows, ready for JSON. Faults come along; the tools without one are drawn."""
    faults: list[dict[str, Any]] = []
    try:
        job_from_data(document)
    except FaultsFound as wrong:
        faults = [fault.as_dict() for fault in wrong.faults]
    tools = document.get("tool")
    pictures = [_picture(document, tool) for tool in tools] if isinstance(tools, list) else []
    return {"faults": faults, "pictures": pictures, "slides": _slides(document)}


def _alone(document: Mapping[str, Any], **more: Any) -> Mapping[str, Any]:
    return {
        "title": "shop",
        "units": document.get("units", "mm"),
        "part": _PART,
        "stock": {"diameter": "900 mm"},
        "sure": list(get_args(Sure)),
        **more,
    }


def _picture(document: Mapping[str, Any], tool: object) -> str | None:
    try:
        job = job_from_data(_alone(document, tool=[tool]))
    except FaultsFound:
        return None
    return tool_picture(job.shop.tools[0], job.units, job.shop.lathe)


def _slides(document: Mapping[str, Any]) -> dict[str, str]:
    """Each slide in words, those whose fields can be understood."""
    told = document.get("slide")
    slides = told if isinstance(told, Mapping) else {}
    names = ("cross", "saddle", *(("top",) if "top" in slides else ()))
    return {name: said for name in names if (said := _slide(document, name, slides.get(name, {})))}


def _slide(document: Mapping[str, Any], name: str, fields: object) -> str | None:
    tool = {"name": "any", "nose_radius": "0.01 mm"}
    limits = {"slides": ["saddle", "cross", "top"]} if name == "top" else {}
    try:
        shop = job_from_data(_alone(document, tool=[tool], slide={name: fields}, limits=limits)).shop
    except FaultsFound:
        return None
    return slide_in_words({"cross": shop.cross, "saddle": shop.saddle, "top": shop.fine}[name])


def slide_in_words(slide: Slide) -> str:
    """How a slide is read, so that it can be held against the machine.

    >>> slide_in_words(Slide("cross", "diameter", "out", 0.01))
    'Wind it out by 1: its figure rises by 2.'
    """
    away = "out" if slide.name == "cross" else "away from the chuck"
    rises = "rises" if slide.factor > 0 else "falls"
    return f"Wind it {away} by 1: its figure {rises} by {abs(slide.factor):g}."
