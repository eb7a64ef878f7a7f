"""What the page Check shows: the list of what to measure, and what the readings say."""

from typing import Any

from ovolo.check.checking import Checked
from ovolo.check.measuring import Advice
from ovolo.documents.check.document import check_as_data
from ovolo.documents.check.says import (
    cause_says,
    cause_title,
    correction_says,
    question,
    radius_says,
    undecided_says,
    verdict_says,
)
from ovolo.plan.model import Plan
from ovolo.show.drawing.check_chart import deviation_as_svg, deviation_view
from ovolo.show.words.checked import place_rows, worth_of
from ovolo.units import from_mm

__all__ = ["check_page", "measuring_page"]

Data = dict[str, Any]


def measuring_page(plan: Plan, advice: Advice) -> Data:
    """The places to measure, and what they can decide."""
    names, unit = ("z", "about", "with", "u", "for"), plan.job.units
    rows = [
        {**dict(zip(names, row, strict=True)), "over": round(from_mm(place.instrument.over, unit), 5)}
        for row, place in zip(place_rows(plan, advice), advice.places, strict=True)
    ]
    return {"places": rows, "says": worth_of(advice, plan), "unit": plan.job.units}


def check_page(checked: Checked) -> Data:
    """What the readings say."""
    view, unit = deviation_view(checked), checked.plan.job.units
    causes = [{"title": cause_title(f), "says": cause_says(f, checked.plan)} for f in checked.causes]
    open_ones = [undecided_says(each, checked.plan) for each in checked.undecided]
    return {
        "verdict": checked.verdict,
        "says": " ".join([verdict_says(checked), *radius_says(checked)]),
        "questions": [str(question(doubt, checked)) for doubt in checked.doubts],
        "causes": causes,
        "undecided": open_ones,
        "todo": correction_says(checked),
        "chart": None if view is None else deviation_as_svg(view, mode="page"),
        "rows": [
            {
                "z": f"{from_mm(line.reading.z, unit):z.3f}",
                "deviation": f"{from_mm(line.deviation, unit):+.3f}",
                "u": f"{from_mm(2 * line.u, unit):.3f}",
                "unused": line.unused,
            }
            for line in checked.lines
        ],
        "document": check_as_data(checked),
    }
