"""Typesetting: SVG to PNG, and templates with their data to PDF, by typst, with the one family of type and no other.

The same input gives the same bytes: no fonts of the system, no date.
"""

import re
import tempfile
from collections.abc import Mapping
from importlib.resources import files
from pathlib import Path
from typing import Literal

from ovolo.show.paper.svg import number

__all__ = ["pages_as_png", "svg_as_png", "template", "typeset"]

EPOCH = 0
"""The date in every document: a sheet is known by its plan's checksum, not by its day."""


def typeset(
    parts: Mapping[str, str], kind: Literal["pdf", "png"], *, ppi: float = 150.0, accessible: bool = False
) -> bytes:
    """The document of `main.typ`, which may read the other parts by their names.

    accessible: PDF/UA-1 (ISO 14289-1). A png holds one page. Raises typst.TypstError for a template that is wrong,
    which is a mistake of ours.
    """
    made = _compiled(parts, kind, ppi, "ua-1" if accessible and kind == "pdf" else None)
    assert isinstance(made, bytes)
    return made


def pages_as_png(parts: Mapping[str, str], ppi: float) -> list[bytes]:
    """Every page of such a document as an image."""
    made = _compiled(parts, "png", ppi, None)
    return [made] if isinstance(made, bytes) else made


def _compiled(
    parts: Mapping[str, str], kind: Literal["pdf", "png"], ppi: float, standard: Literal["ua-1"] | None
) -> bytes | list[bytes]:
    """What typst makes of the parts: many pages come as so many images."""
    import typst

    with tempfile.TemporaryDirectory() as folder:
        for name, words in parts.items():
            (Path(folder) / name).write_text(words, encoding="utf-8")
        made: bytes | list[bytes] = typst.compile(
            str(Path(folder) / "main.typ"),
            root=folder,
            font_paths=[str(files("font_source_sans_pro") / "files")],
            ignore_system_fonts=True,
            format=kind,
            ppi=ppi if kind == "png" else None,
            pdf_standards=standard,
            timestamp=EPOCH,
        )
    return made


def template(name: str) -> str:
    """A template that comes with the package."""
    return (files("ovolo.show") / "templates" / name).read_text(encoding="utf-8")


def svg_as_png(svg: str, ppi: float = 150.0) -> bytes:
    """A drawing of ours as an image, as many dots an inch as asked for."""
    width, height = (float(size) for size in _SIZE.findall(svg)[0])
    page = f"width: {number(width)}mm, height: {number(height)}mm, margin: 0mm"
    main = f'#set page({page})\n#image("drawing.svg", width: {number(width)}mm)\n'
    return typeset({"main.typ": main, "drawing.svg": svg}, "png", ppi=ppi)


_SIZE = re.compile(r'<svg [^>]*?width="([0-9.]+)mm" height="([0-9.]+)mm"')
