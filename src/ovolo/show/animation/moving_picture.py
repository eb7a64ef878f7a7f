"""The cut as a moving picture: a GIF that plays anywhere, where nobody can open a page.

Each image is set like the drawings, many at a time; the palette is that of the look, so the same plan gives the same
bytes. What a viewer reads without colour stands in line and hatching too.
"""

import io
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

import shapely

from ovolo.geometry.segments import Point
from ovolo.show.animation.moments import Moment, moments
from ovolo.show.animation.page import HEIGHT, WIDTH, AnimationView, captions, drawn_over, drawn_under, tools_drawn
from ovolo.show.paper.cuts import Region
from ovolo.show.paper.shapes import hatching, on_paper, region_path
from ovolo.show.paper.style import INKS, Mode, style
from ovolo.show.paper.svg import clip, document, group, line, number, path, rect, text
from ovolo.show.paper.title_block import shortened
from ovolo.show.paper.typeset import pages_as_png

if TYPE_CHECKING:
    from PIL.Image import Image

__all__ = ["DOTS", "animation_as_gif"]

DOTS = 960
"""How wide it is."""

HEAD, FOOT = 12.0, 18.0
"""Room for the title above the picture and for what is said below it, mm."""

BATCH = 4
"""So many images are set at once: few, for what was set lately is kept in memory."""

RGB = tuple[int, int, int]

_EDGE = 5.0
_TITLE, _SAYS, _SMALL = 5.5, 7.0, 4.6
_TALL = HEAD + HEIGHT + FOOT
_RAMP = 5
"""Steps from the ground to each pencil in the palette."""

Tell = Callable[[int, int], None]
"""Is told how many images of how many are done."""


def animation_as_gif(view: AnimationView, *, mode: Mode = "paper", tell: Tell = lambda done, of: None) -> bytes:
    """The moving picture, played over and over."""
    shown = moments(view.plan.moves, view.place.scale)
    images, lasts = _images(view, shown, mode, tell), [moment.lasts for moment in shown]
    made = io.BytesIO()
    next(images).save(made, "GIF", save_all=True, append_images=images, duration=lasts, loop=0)
    return made.getvalue()


def _images(view: AnimationView, shown: Sequence[Moment], mode: Mode, tell: Tell) -> "Iterator[Image]":
    """Every moment as an image in the colours of the palette."""
    scene = _Scene(view, mode)
    for start in range(0, len(shown), BATCH):
        for k, png in enumerate(scene.set(shown[start : start + BATCH]), start=start + 1):
            tell(k, len(shown))
            yield _in_palette(png, mode)


def _in_palette(png: bytes, mode: Mode) -> "Image":
    """An image with no other colours than those from the ground of the look to its inks."""
    from PIL import Image

    palette = Image.new("P", (1, 1))
    palette.putpalette(_colours(mode))
    return Image.open(io.BytesIO(png)).convert("RGB").quantize(palette=palette, dither=Image.Dither.NONE)


def _colours(mode: Mode) -> list[int]:
    """Red, green, blue of every colour, one after the other."""
    ink = INKS[mode]
    ground = _rgb(ink.ground)
    pencils = [_rgb(pencil) for pencil in (ink.ink, ink.faint, ink.blue, ink.red)]
    ramps = [_mixed(ground, pencil, k / _RAMP) for pencil in pencils for k in range(_RAMP + 1)]
    known = dict.fromkeys([*ramps, _rgb(ink.blue_tint), _rgb(ink.red_tint)])
    return [value for colour in known for value in colour]


def _rgb(colour: str) -> RGB:
    """
    >>> _rgb("#1b56a4")
    (27, 86, 164)
    """
    red, green, blue = bytes.fromhex(colour.removeprefix("#"))
    return red, green, blue


def _mixed(ground: RGB, ink: RGB, share: float) -> RGB:
    red, green, blue = (round(g + share * (i - g)) for g, i in zip(ground, ink, strict=True))
    return red, green, blue


class _Scene:
    """What does not change from image to image, found once, and the setting of those that do."""

    def __init__(self, view: AnimationView, mode: Mode) -> None:
        self._view, self._mode = view, mode
        self._said = captions(view.plan)
        self._tools = dict(zip((tool.name for tool in view.plan.tools), tools_drawn(view), strict=True))
        self._lines = drawn_over(view)

    def set(self, shown: Sequence[Moment]) -> list[bytes]:
        """The images of some moments, in order."""
        parts = {f"{k}.svg": self._document(self._over(moment)) for k, moment in enumerate(shown)}
        size = f"width: {number(WIDTH)}mm, height: {number(_TALL)}mm, margin: 0mm"
        pages = [f'#place(image("under.svg", width: 100%))#place(image("{name}", width: 100%))' for name in parts]
        main = f"#set page({size})\n" + "\n#pagebreak()\n".join(pages)
        under = self._document(self._under())
        return pages_as_png({"main.typ": main, "under.svg": under, **parts}, 25.4 * DOTS / WIDTH)

    def _document(self, pieces: Sequence[str]) -> str:
        return document(WIDTH, _TALL, self._view.plan.job.title, "The cut", pieces, style(self._mode))

    def _under(self) -> list[str]:
        """Title, frame, and the metal that stays."""
        title = shortened(self._view.plan.job.title, _TITLE, WIDTH - 2 * _EDGE, strong=True)
        return [
            rect(0, 0, WIDTH, _TALL, "ground"),
            text((_EDGE, HEAD / 2), title, _TITLE, cls="strong"),
            _on_stage(drawn_under(self._view)),
        ]

    def _over(self, moment: Moment) -> list[str]:
        """The metal to go, the outline, the tool, and what is said."""
        to_go = on_paper(self._to_go(moment), self._view.place)
        metal = [path(region_path(to_go), "to-go"), path(hatching(to_go, 1.2, -45.0), "to-go-hatch")]
        return [
            _on_stage([*metal, path(region_path(to_go), "red"), *self._lines, *self._tool(moment)]),
            line((0, HEAD), (WIDTH, HEAD), "thin"),
            line((0, HEAD + HEIGHT), (WIDTH, HEAD + HEIGHT), "thin"),
            *self._caption(moment),
        ]

    def _to_go(self, moment: Moment) -> Region:
        """What the plan takes and has not taken yet."""
        cuts, done = self._view.cuts, moment.done
        metal = cuts.after(done)
        if moment.share > 0:
            metal = shapely.difference(metal, cuts.track(replace(cuts.plan.moves[done], end=self._nose(moment))))
        return shapely.difference(metal, cuts.left)

    def _nose(self, moment: Moment) -> Point:
        """Where the centre of the nose is."""
        moves = self._view.plan.moves
        if moment.share == 0 and moment.done:
            return moves[moment.done - 1].end
        start, end = moves[moment.done].start, moves[moment.done].end
        return Point(start.x + moment.share * (end.x - start.x), start.y + moment.share * (end.y - start.y))

    def _tool(self, moment: Moment) -> list[str]:
        """The tool where it stands; none where the plan has no move."""
        moves = self._view.plan.moves
        if not moves:
            return []
        name = moves[max(moment.under_way, 1) - 1].tool
        x, y = self._view.place.at(*self._nose(moment))
        return [f'<g transform="translate({number(x)} {number(y)})">', self._tools[name], "</g>"]

    def _caption(self, moment: Moment) -> list[str]:
        """What is wound to what figure, large; the stage and the number of the move below it."""
        n, many, foot = moment.under_way, len(self._said), HEAD + HEIGHT
        stage, says = self._said[n - 1] if n else ("", "Before the first move")
        cuts = ", cuts" if n and self._view.plan.moves[n - 1].cuts else ""
        done = (WIDTH - 2 * _EDGE) * n / max(many, 1)
        return [
            text((_EDGE, foot + 6.2), shortened(says, _SAYS, WIDTH - 2 * _EDGE, strong=True), _SAYS, cls="strong"),
            text((_EDGE, foot + 13.6), shortened(stage + cuts, _SMALL, WIDTH - 60), _SMALL),
            text((WIDTH - _EDGE, foot + 13.6), f"move {n} of {many}", _SMALL, anchor="end"),
            line((_EDGE, foot), (_EDGE + done, foot), "edge"),
        ]


def _on_stage(pieces: Sequence[str]) -> str:
    """Below the title, and nothing beyond the picture."""
    inner = group(pieces, clip_to="stage")
    return clip("stage", rect(0, 0, WIDTH, HEIGHT, "")) + f'<g transform="translate(0 {number(HEAD)})">{inner}</g>'
