"""The outlook in words: few figures, the rest on request, nothing to more digits than it deserves."""

import re
from dataclasses import replace

import pytest
from tests.documents.jobs import pin

from ovolo.cutting.scatter import Errors
from ovolo.documents.reading import job_from_data
from ovolo.plan.model import Plan
from ovolo.plan.planner import make_plan
from ovolo.predict.forecast.outlook import forecast
from ovolo.show.words.outlook import OutlookView, about, outlook_view


def _plan(changes: dict[str, object] | None = None) -> Plan:
    return make_plan(job_from_data(pin({"part.material": "mild steel"} | (changes or {}))))


@pytest.fixture(scope="module")
def view() -> OutlookView:
    made = _plan()
    return outlook_view(made, forecast(made))


def test_the_few_figures_are_five_sentences(view: OutlookView) -> None:
    starts = [
        "Spindle for mild steel",
        "Heaviest cut, move",
        "The finished outline will lie",
        "It takes about",
        "To file:",
    ]
    assert [sentence[: len(start)] for sentence, start in zip(view.few, starts, strict=True)] == starts


def test_whose_pace_it_is_is_said(view: OutlookView) -> None:
    mine = _plan({"pace.setting": 5})
    assert "working steadily" in view.few[3]
    assert "at your own pace" in outlook_view(mine, forecast(mine, runs=200)).few[3]


def test_finishing_along_the_axis_is_wound_with_the_top_slide_where_there_is_one() -> None:
    """Roughing still goes with the saddle."""
    made = _plan({"slide.top": {"travel": 60}, "limits.slides": ["saddle", "cross", "top"]})
    view = outlook_view(made, forecast(made, runs=200))
    text = " ".join([*view.few, *(line for group in view.groups for line in group.lines)])
    wound = re.findall(r"wind the cross slide .*? and the (top slide|saddle)", text)
    assert wound == ["saddle", "top slide"]


def test_forces_are_told_to_two_figures(view: OutlookView) -> None:
    (load,) = [sentence for sentence in view.few if "Heaviest" in sentence]
    force = re.search(r"about (\d+) N\*?", load)
    assert force
    assert force[1].endswith("0")


def test_there_are_six_groups(view: OutlookView) -> None:
    assert len(view.groups) == 6


def test_the_cautions_of_filing_come_first(view: OutlookView) -> None:
    blend = view.groups[-1].lines
    text = " ".join(blend)
    for word in ("handle", "left hand", "rag", "emery", "blue"):
        assert word in text
    assert text.index("eye protection") < text.index("File until the blue")


def test_what_is_too_much_is_said_with_the_moves_and_a_remedy() -> None:
    made = _plan({"lathe": {"motor_w": 60}, "stock.stick_out": 120})
    cautions = outlook_view(made, forecast(made, runs=200)).cautions
    assert any(text.startswith("Move") and "motor gives 45 W" in text for text in cautions)
    assert any(text.startswith("The bar projects by 6.0 times") and "centre" in text for text in cautions)


def test_without_a_material_the_rest_is_still_told() -> None:
    made = make_plan(job_from_data(pin()))
    seen = outlook_view(made, forecast(made, runs=200))
    assert len(seen.few) == 3
    assert any("part.material" in text for text in seen.cautions)
    assert seen.groups[0].title == "Where the outline will lie"


def test_inches_are_told_in_inches() -> None:
    data = pin({"part.material": "brass", "units": "in"})
    data["part"] |= {"outline": [{"z": 0, "d": 0}, {"z": -0.375, "d": 0.75, "convex": 0.375}, {"z": -1, "d": 0.75}]}
    data["part"]["curve"] = [0, -0.375]
    data["stock"] = {"diameter": 0.8125, "proud": 0.02, "stick_out": 1.5}
    data["tool"][0]["nose_radius"] = 0.125
    made = make_plan(job_from_data(data))
    seen = outlook_view(made, forecast(made, runs=200))
    assert re.search(r"between 0\.00\d\d in under and 0\.00\d\d in over", seen.few[2])
    figures = [line for group in seen.groups[:5] for line in group.lines]
    assert not any(re.search(r"\bmm|µm", text) for text in (*seen.few, *seen.cautions, *figures))
    assert any(re.search(r"about 0\.000\d+ in³ of metal", text) for text in seen.few)


def test_a_perfect_hand_lies_between_the_outline_and_the_ridge() -> None:
    """Nothing is off: nowhere under the outline, nowhere over the ridge that the sweep found."""
    made = _plan()
    none = Errors(**dict.fromkeys(vars(Errors()), 0.0))
    found = forecast(made, errors=none, runs=200)
    assert found.scatter is not None
    assert 0 <= found.scatter.low < 0.006  # the grid of whole counts
    assert found.scatter.high == pytest.approx(made.prediction.ridge_max, abs=0.0015)
    (text,) = [said for said in outlook_view(made, found).few if "outline will lie" in said]
    assert "Chance of more than 0.050 mm under it anywhere: under 1 %." in text
    assert "adds most" not in text


def test_the_largest_cause_is_named_with_what_lessens_it() -> None:
    made = _plan()
    for errors, cause in (
        (Errors(nose=0.2), "The nose radius adds most"),
        (Errors(setting_z=0.1), "Setting the slides adds most"),
    ):
        (text,) = [s for s in outlook_view(made, forecast(made, errors=errors, runs=500)).few if "will lie" in s]
        assert cause in text


def test_every_assumed_error_is_shown_with_its_field(view: OutlookView) -> None:
    (group,) = [group for group in view.groups if group.title.startswith("Assumed errors")]
    text = "\n".join(group.lines)
    for field in ("errors.setting.cross", "errors.setting.saddle", "errors.touching.cross", "errors.touching.saddle"):
        assert f"({field})" in text
    assert "errors.height" in text
    assert "tool.nose_radius_u, errors.nose" in text


def test_the_jobs_own_errors_are_assumed() -> None:
    careful = _plan({"errors": {"setting": {"cross": 0.001, "saddle": 0.002}, "touching": {"cross": 0.003}}})
    view = outlook_view(careful, forecast(careful, runs=200))
    text = "\n".join(line for group in view.groups for line in group.lines)
    assert "cross slide set to a figure: 0.001 mm" in text
    assert "touching off, once: 0.003 mm across (errors.touching.cross), 0.020 mm along" in text


def test_a_force_outside_the_fit_is_marked_in_the_headline_too() -> None:
    made = _plan()
    found = forecast(made, runs=200)
    moves = tuple(load._replace(guess=True) for load in found.loads.moves)
    view = outlook_view(made, replace(found, loads=replace(found.loads, moves=moves)))
    (load,) = [sentence for sentence in view.few if "Heaviest" in sentence]
    assert re.search(r"about \d+ N\* and \d+ W\* at the edge. The bar deflects by .*mm\* at most", load)
    assert "* A rough figure: " in load


@pytest.mark.parametrize(("value", "text"), [(1234, "1200"), (0.00456, "0.0046"), (99.6, "100"), (5, "5")])
def test_about_keeps_two_figures(value: float, text: str) -> None:
    assert about(value) == text


def test_a_measured_stiffness_counts_and_is_said() -> None:
    """2000 N/mm: what the heaviest finishing push moves the machine by comes on top of the bar's own bending."""
    rigid, soft = _plan({"stock.stick_out": 40}), _plan({"stock.stick_out": 40, "lathe.stiffness": 2000})
    before, after = forecast(rigid, runs=200), forecast(soft, runs=200)
    (said,) = [text for text in outlook_view(soft, after).few if "Heaviest" in text]
    assert "at the 2000 N/mm that you measured" in said
    assert "lathe.stiffness" in next(text for text in outlook_view(rigid, before).few if "Heaviest" in text)
    more = [(b.bends or 0) - (a.bends or 0) for a, b in zip(before.loads.moves, after.loads.moves, strict=True)]
    pushes = [load.force for load in before.loads.moves]
    assert all(0 < gives <= 0.5 * force / 2000 * 1.001 for gives, force in zip(more, pushes, strict=True))
