"""The page of a run, all in one file: style, letters, script, every move; it needs nothing else once it is there."""

from __future__ import annotations

import base64
import io
import json
import re
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

import font_source_sans_pro
import jinja2
from fontTools import subset
from fontTools.ttLib import TTFont
from markupsafe import Markup

from ovolo.documents.plan.reading import plan_from_data
from ovolo.show.turn.view import turn_view

__all__ = ["run_page"]

HERE = Path(__file__).parent
FONTS = Path(font_source_sans_pro.__file__).parent / "files"
MODULES = (
    "figures",
    "ticks",
    "keep",
    "send",
    "senses",
    "rule",
    "pad",
    "words",
    "past",
    "run",
    "screens",
    "parts",
    "trouble",
    "main",
)
"""The modules of the page, each after those that it imports."""

LETTERS = "".join(chr(n) for n in (*range(0x20, 0x7F), *range(0xA0, 0x180))) + "–—−·×…′″⌫Øø→←"
FIGURES = "0123456789-.Ø"

_IMPORT = re.compile(r"^import [^;]*;\n", re.MULTILINE)
_EXPORT = re.compile(r"^export ", re.MULTILINE)
_REMARK = re.compile(r"^\s*(//|/\*\*|\*).*\n", re.MULTILINE)


def run_page(plan: Mapping[str, Any], run: str, series: Mapping[str, Any] | None = None) -> bytes:
    """The page of a run of a plan (in the shape of plan.json). Raises JobFaults where that is none.

    series: what it takes over, where it is one of several equal parts.
    """
    found = plan_from_data(plan)
    view = turn_view(found, plan, run, series or {})
    facts = json.dumps(view, separators=(",", ":"), allow_nan=False, ensure_ascii=False)
    shown = {"facts": _harmless(facts), "style": Markup(_style()), "script": Markup(_script())}
    return _template().render(title=found.job.title, moves=len(found.moves), **shown).encode()


def _harmless(data: str) -> Markup:
    """Data that can end no element and begin none."""
    return Markup(data.replace("&", "\\u0026").replace("<", "\\u003c").replace(">", "\\u003e"))


@lru_cache(maxsize=1)
def _template() -> jinja2.Template:
    loader = jinja2.FileSystemLoader(HERE / "templates")
    made = jinja2.Environment(loader=loader, autoescape=True, undefined=jinja2.StrictUndefined)
    return made.get_template("run.html")


@lru_cache(maxsize=1)
def _script() -> str:
    """The modules as one script: a page that has to work from a file can import nothing."""
    parts = [(HERE / "static" / "turn" / f"{name}.js").read_text(encoding="utf-8") for name in MODULES]
    joined = "".join(_REMARK.sub("", _EXPORT.sub("", _IMPORT.sub("", part))) for part in parts)
    begin = 'start(document.getElementById("page").outerHTML);'
    return f'(() => {{"use strict";\n{joined}{begin}\n}})();'


@lru_cache(maxsize=1)
def _style() -> str:
    faces = [
        _face("Turn", "Regular", 400, LETTERS),
        _face("Turn", "Semibold", 600, LETTERS),
        _face("Turn figures", "Semibold", 600, FIGURES, minus=True),
    ]
    return "".join(faces) + (HERE / "static" / "turn" / "turn.css").read_text(encoding="utf-8")


def _face(family: str, cut: str, weight: int, letters: str, *, minus: bool = False) -> str:
    """A cut of the face with some letters only; `minus` draws a hyphen as wide as a figure, for a minus it is here."""
    font = TTFont(FONTS / f"SourceSansPro-{cut}.ttf")
    options = subset.Options(layout_features=["kern", "tnum"], name_IDs=[0, 13, 14], hinting=False, notdef_outline=True)
    chosen = subset.Subsetter(options)
    chosen.populate(text=letters + "−")
    chosen.subset(font)
    if minus:
        for table in font["cmap"].tables:
            table.cmap[ord("-")] = table.cmap[ord("−")]
    font.flavor = "woff"
    file = io.BytesIO()
    font.save(file)
    data = base64.b64encode(file.getvalue()).decode()
    return f'@font-face{{font-family:"{family}";font-weight:{weight};src:url(data:font/woff;base64,{data})}}'
