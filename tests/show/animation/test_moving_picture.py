"""The cut as a moving picture."""

import io
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
import shapely
from PIL import Image, ImageSequence
from shapely import affinity
from tests.show.plans import planned

from ovolo.show.animation import moments as moments_module
from ovolo.show.animation import moving_picture
from ovolo.show.animation.moments import moments
from ovolo.show.animation.moving_picture import HEAD, animation_as_gif
from ovolo.show.animation.page import HEIGHT, WIDTH, AnimationView, animation_view
from ovolo.show.paper.style import INKS, Mode

SMALL = 480
"""Dots across: it is the same picture at any size, and quicker to make."""

DOT = WIDTH / SMALL
"""mm of the picture."""


@pytest.fixture(autouse=True, scope="module")
def _small() -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(moving_picture, "DOTS", SMALL)
        patch.setattr(moments_module, "STEP", 40.0)
        yield


@cache
def _view(name: str) -> AnimationView:
    return animation_view(planned(name))


@cache
def _gif(name: str, mode: Mode = "paper") -> bytes:
    return animation_as_gif(_view(name), mode=mode)


@contextmanager
def _opened(gif: bytes) -> "Iterator[Image.Image]":
    with Image.open(io.BytesIO(gif)) as image:
        yield image


def _images(gif: bytes) -> list["np.ndarray[tuple[int, ...], np.dtype[np.uint8]]"]:
    with _opened(gif) as image:
        return [np.asarray(each.convert("RGB")) for each in ImageSequence.Iterator(image)]


def _colour(image: "np.ndarray[tuple[int, ...], np.dtype[np.uint8]]", z: float, r: float, view: AnimationView) -> str:
    """The colour that most dots around a point of the part have."""
    x, y = view.place.at(z, r)
    column, row = int(x / DOT), int((y + HEAD) / DOT)
    around = image[row - 4 : row + 5, column - 4 : column + 5].reshape(-1, 3)
    colours, counts = np.unique(around, axis=0, return_counts=True)
    return "#" + bytes(colours[counts.argmax()].tolist()).hex()


@pytest.mark.parametrize("name", ["pivot", "bush", "winch-pin-inch"])
def test_it_has_every_moment_and_says_how_long(name: str) -> None:
    view = _view(name)
    shown = moments(view.plan.moves, view.place.scale)
    with _opened(_gif(name)) as image:
        assert image.width == SMALL
        lasts = [each.info["duration"] for each in ImageSequence.Iterator(image)]
        assert image.info["loop"] == 0
    assert sum(lasts) == sum(moment.lasts for moment in shown)
    assert lasts[-1] == shown[-1].lasts
    assert len(lasts) <= len(shown)
    assert len(lasts) > len(view.plan.moves), "the first image, and one at least for each move"


def _widest(region: shapely.Geometry) -> shapely.Point:
    """The middle of the largest circle within a region, for a spot of it that is clear of lines."""
    circle = shapely.maximum_inscribed_circle(max(shapely.get_parts(region), key=lambda part: part.area))
    return shapely.Point(circle.coords[0])


@pytest.mark.parametrize("name", ["pivot", "bush", "winch-pin-inch"])
def test_metal_to_go_is_there_at_first_and_gone_at_last(name: str) -> None:
    view, images, ink = _view(name), _images(_gif(name)), INKS["paper"]
    spot = _widest(shapely.difference(view.cuts.blank, view.cuts.left))
    assert _colour(images[0], spot.x, spot.y, view) == ink.red_tint
    assert _colour(images[-1], spot.x, spot.y, view) in (ink.ground, ink.blue_tint)
    inside = _widest(view.cuts.part)
    assert _colour(images[0], inside.x, inside.y, view) == ink.ground == _colour(images[-1], inside.x, inside.y, view)


def test_metal_only_ever_goes() -> None:
    tint = np.array(list(bytes.fromhex(INKS["paper"].red_tint[1:])))
    tool = np.array(list(bytes.fromhex(INKS["paper"].blue_tint[1:])))
    images = _images(_gif("pivot"))
    red = [(image == tint).all(axis=2) for image in images]
    blue = [(image == tool).all(axis=2) for image in images]
    for k in range(1, len(images)):
        come = red[k] & ~red[k - 1] & ~blue[k - 1]
        assert come.sum() < 0.05 * red[0].sum(), "but for the hatching's rims"
    assert red[-1].sum() < 0.1 * red[0].sum()


def test_the_same_plan_gives_the_same_bytes() -> None:
    assert animation_as_gif(_view("pivot")) == _gif("pivot")


def test_in_print_it_is_black_on_white() -> None:
    dots = _images(_gif("pivot", "print"))[-1].reshape(-1, 3)
    assert (dots == dots[:, :1]).all()
    assert {0, 255} <= set(dots[:, 0].tolist())


def test_each_image_is_told_and_it_can_be_stopped_there() -> None:
    told: list[tuple[int, int]] = []

    def tell(done: int, of: int) -> None:
        told.append((done, of))
        if done == 3:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        animation_as_gif(_view("pivot"), tell=tell)
    many = len(moments(_view("pivot").plan.moves, _view("pivot").place.scale))
    assert told == [(1, many), (2, many), (3, many)]


def test_tools_are_shown_in_turn() -> None:
    plan = planned("chain-roller")
    change = next(k for k, move in enumerate(plan.moves) if move.tool != plan.moves[0].tool)
    around = replace(
        plan,
        moves=tuple(replace(move, n=k) for k, move in enumerate(plan.moves[change - 1 : change + 1], 1)),
        before=(),
    )
    view = animation_view(around)
    last, first = around.moves
    images = _images(animation_as_gif(view))
    for image, move, at in ((images[0], last, last.start), (images[-1], first, first.end)):
        tool = affinity.translate(shapely.Polygon(view.cuts.shapes[move.tool]), *at)
        spot = _widest(shapely.intersection(tool, _seen(view)))
        assert _colour(image, spot.x, spot.y, view) == INKS["paper"].blue_tint


def _seen(view: AnimationView) -> shapely.Polygon:
    """What of (z, r) is on the picture."""
    (x0, y0), scale = view.place.at(0, 0), view.place.scale
    return shapely.box(-x0 / scale, (y0 - HEIGHT) / scale, (WIDTH - x0) / scale, y0 / scale)
