"""What writes each format of `ovolo.show.formats`: a function for each, called as its file is, with _ for the dot."""

from __future__ import annotations

from collections.abc import Callable

from ovolo.documents.plan.document import plan_as_json
from ovolo.documents.resolved import job_as_toml
from ovolo.part.files import outline_csv as points_of
from ovolo.part.files import outline_dxf as dxf_of
from ovolo.part.files import outline_svg as svg_of
from ovolo.plan.model import Plan
from ovolo.predict.forecast.tradeoff import tradeoff
from ovolo.predict.methods.compare import compare
from ovolo.show.animation.moving_picture import animation_as_gif
from ovolo.show.animation.page import animation_as_html, animation_view
from ovolo.show.drawing.methods_drawing import methods_as_svg, methods_drawing
from ovolo.show.drawing.pictures import PictureName, picture_as_svg
from ovolo.show.formats import How, Written
from ovolo.show.gauge.dxf import gauge_as_dxf
from ovolo.show.gauge.template import gauge_as_pdf, gauge_as_svg, gauge_view
from ovolo.show.paper.typeset import svg_as_png
from ovolo.show.sheet.sheet import sheet_as_pdf
from ovolo.show.words.methods import methods_as_json, methods_view
from ovolo.show.words.table import moves_as_csv
from ovolo.show.words.tradeoff import tradeoff_as_csv, tradeoff_as_json, tradeoff_as_text, tradeoff_view

Writer = Callable[[Plan, How], Written]


def _drawn(name: PictureName) -> Callable[[Plan, How], str]:
    return lambda plan, how: picture_as_svg(plan, name, mode=how.look, move=how.move)


def _image(drawn: Callable[[Plan, How], str]) -> Writer:
    return lambda plan, how: svg_as_png(drawn(plan, how))


drawing_svg, move_svg, left_svg = _drawn("drawing"), _drawn("move"), _drawn("left")
settings_svg, explained_svg = _drawn("settings"), _drawn("explained")
drawing_png, move_png, left_png = _image(drawing_svg), _image(move_svg), _image(left_svg)
settings_png, explained_png = _image(settings_svg), _image(explained_svg)


def methods_svg(plan: Plan, how: How) -> str:
    return methods_as_svg(methods_drawing(plan, compare(plan)), mode=how.look)


methods_png = _image(methods_svg)


def methods_json(plan: Plan, _: How) -> str:
    found = compare(plan)
    return methods_as_json(methods_view(plan, found), found)


def cut_html(plan: Plan, _: How) -> str:
    return animation_as_html(animation_view(plan))


def cut_gif(plan: Plan, how: How) -> bytes:
    return animation_as_gif(animation_view(plan), mode=how.look, tell=how.tell)


def sheet_pdf(plan: Plan, how: How) -> bytes:
    return sheet_as_pdf(plan, paper=how.paper, revision=how.revision)


def gauge_pdf(plan: Plan, how: How) -> bytes:
    return gauge_as_pdf(gauge_view(plan.job), letter=how.paper == "letter")


def gauge_svg(plan: Plan, how: How) -> str:
    return gauge_as_svg(gauge_view(plan.job), letter=how.paper == "letter")[0]


def gauge_dxf(plan: Plan, _: How) -> str:
    return gauge_as_dxf(gauge_view(plan.job))


def plan_json(plan: Plan, _: How) -> str:
    return plan_as_json(plan)


def moves_csv(plan: Plan, _: How) -> str:
    return moves_as_csv(plan)


def resolved_toml(plan: Plan, _: How) -> str:
    return job_as_toml(plan.job)


def tradeoff_txt(plan: Plan, _: How) -> str:
    return tradeoff_as_text(tradeoff_view(plan, tradeoff(plan)))


def tradeoff_csv(plan: Plan, _: How) -> str:
    return tradeoff_as_csv(tradeoff_view(plan, tradeoff(plan)))


def tradeoff_json(plan: Plan, _: How) -> str:
    return tradeoff_as_json(tradeoff_view(plan, tradeoff(plan)))


def outline_svg(plan: Plan, _: How) -> str:
    return svg_of(plan.job.part.outline, plan.job.units, plan.job.title)


def outline_dxf(plan: Plan, _: How) -> str:
    return dxf_of(plan.job.part.outline, plan.job.units)


def outline_csv(plan: Plan, _: How) -> str:
    return points_of(plan.job.part.outline, plan.job.units)
