"""What Check has found as a document: check.json. Lengths in mm whatever the units of the job."""

import json
from typing import Any

from ovolo.check.checking import Checked, Found, Line
from ovolo.documents.check.says import (
    cause_says,
    correction_says,
    question,
    undecided_says,
    verdict_says,
)
from ovolo.documents.plan.document import plan_as_data, rounded

__all__ = ["check_as_data", "check_as_json"]

Data = dict[str, Any]


def check_as_data(checked: Checked) -> Data:
    """The shape of check.json."""
    judged, fix = checked.judged, checked.correction
    return {
        "format": "ovolo-check",
        "version": 1,
        "verdict": checked.verdict,
        "says": verdict_says(checked),
        "state": checked.measured.state,
        "limits": {"above": rounded(checked.limits.above, 5), "below": rounded(checked.limits.below, 5)},
        "readings": [_line(line) for line in checked.lines],
        "questions": [question(doubt, checked).as_dict() for doubt in checked.doubts],
        "causes": [_cause(found) | {"says": cause_says(found, checked.plan)} for found in checked.causes],
        "undecided": [
            {
                "between": [found.cause.name for found in each.between],
                "each": [_cause(found) for found in each.between],
                "read": None if each.read is None else {"z": rounded(each.read.z, 4), "u_z": each.read.u_z},
                "says": undecided_says(each, checked.plan),
            }
            for each in checked.undecided
        ],
        "remaining": None
        if judged is None
        else {"above": rounded(judged.above, 5), "below": rounded(judged.below, 5), "u": rounded(judged.u, 5)},
        "radius": None
        if checked.radius is None
        else {name: rounded(value, 5) for name, value in checked.radius._asdict().items()},
        "correction": {
            "shift": dict(fix.shift),
            "plan": None if fix.plan is None else plan_as_data(fix.plan),
            "says": " ".join(correction_says(checked)),
        },
    }


def check_as_json(checked: Checked) -> str:
    """The text of check.json."""
    return json.dumps(check_as_data(checked), indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def _line(line: Line) -> Data:
    reading = line.reading
    size = 2.0 if reading.column == "d" else 1.0
    data: Data = {
        "z": rounded(reading.z, 5),
        reading.column: rounded(size * reading.r, 5),
        "expected": rounded(size * line.expected, 5),
        "deviation": rounded(line.deviation, 5),
        "u": rounded(line.u, 5),
        "used": line.unused is None,
    }
    if reading.over:
        data["over"] = rounded(reading.over, 4)
    return data if line.unused is None else {**data, "says": line.unused}


def _cause(found: Found) -> Data:
    cause = found.cause
    data: Data = {"name": cause.name}
    if cause.tool is not None:
        data["tool"] = cause.tool
    if cause.slide is not None:
        data["slide"] = cause.slide
    if cause.move is not None:
        data["move"] = cause.move + 1
    return {**data, "value": rounded(found.value, 6), "u": rounded(found.u, 6)}
