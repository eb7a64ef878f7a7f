"""The drawing of a plan, as a whole."""

import re
from itertools import combinations
from xml.etree import ElementTree

import pytest
import shapely
from shapely.geometry.base import BaseGeometry
from tests.show.plans import NAMES, planned

from ovolo.show.drawing.half_section import Area, draw, drawing_as_svg, drawing_view, station_move
from ovolo.show.paper.lettering import breadth
from ovolo.show.paper.style import Mode

SPACE = "{http://www.w3.org/2000/svg}"


def _texts(svg: str) -> list[tuple[str, BaseGeometry]]:
    """Every line of text with the room that it takes on the page."""
    found = []
    for element in ElementTree.fromstring(svg).iter(f"{SPACE}text"):
        size, words = float(element.get("font-size", "0")), element.text or ""
        x, y, wide = float(element.get("x", "0")), float(element.get("y", "0")), breadth(words, size) * 0.96
        left = x - {None: 0.0, "middle": 0.5, "end": 1.0}[element.get("text-anchor")] * wide
        box: BaseGeometry = shapely.box(left, y - 0.66 * size, left + wide, y)
        turn = re.match(r"rotate\((\S+) (\S+) (\S+)\)", element.get("transform", ""))
        if turn:
            angle, at_x, at_y = map(float, turn.groups())
            box = shapely.affinity.rotate(box, angle, origin=(at_x, at_y))
        found.append((words, box))
    return found


@pytest.mark.parametrize("name", NAMES)
def test_no_two_texts_overlap_and_none_leaves_the_sheet(name: str) -> None:
    texts = _texts(drawing_as_svg(drawing_view(planned(name))))
    assert len(texts) > 15
    page = shapely.box(20, 10, 287, 200)
    for words, box in texts:
        assert page.contains(box), words
    for (one, a), (other, b) in combinations(texts, 2):
        assert not a.intersects(b), (one, other)


@pytest.mark.parametrize("count", [0, 1, 20, None])
def test_after_any_move(count: int | None) -> None:
    plan = planned("bridge-pin")
    move = len(plan.moves) if count is None else count
    view = drawing_view(plan, move)
    assert view.nose == (plan.moves[0].start if move == 0 else plan.moves[move - 1].end)
    drawn = drawing_as_svg(view)
    assert (f"After move {move} of {len(plan.moves)}" if move else "Before the first move") in drawn
    ElementTree.fromstring(drawn)


def test_the_move_chosen_is_a_setting() -> None:
    for name in NAMES:
        plan = planned(name)
        assert plan.moves[station_move(plan) - 1].station is not None


@pytest.mark.parametrize("mode", ["paper", "dark", "print", "page"])
def test_in_every_look(mode: Mode) -> None:
    view = drawing_view(planned("bridge-pin"))
    svg = drawing_as_svg(view, mode=mode)
    assert "R 9" in svg
    assert svg == drawing_as_svg(drawing_view(planned("bridge-pin")), mode=mode)


def test_what_is_drawn_is_true_to_scale() -> None:
    """The dome of R 9 is drawn with an arc of 9 times the scale of the title block."""
    svg = drawing_as_svg(drawing_view(planned("bridge-pin")))
    scale = re.search(r">([0-9.]+) : 1</text>", svg)
    assert scale
    assert f"A{9 * float(scale[1]):g} {9 * float(scale[1]):g} 0 0 0" in svg


def test_a_small_area_has_neither_detail_nor_words() -> None:
    view = drawing_view(planned("bridge-pin"))
    pieces, scale = draw(view, Area(0, 0, 90, 70), key="k", sized=False)
    assert scale > 1
    assert not any("A (" in piece for piece in pieces)


def test_hostile_titles_stay_text() -> None:
    svg = drawing_as_svg(drawing_view(planned("handle")))
    assert "<with>" not in svg
    root = ElementTree.fromstring(svg)
    assert (root.findtext(f"{SPACE}title") or "").startswith("Winch handle <with> &")


def test_the_bar_is_named_clear_of_the_tool() -> None:
    view = drawing_view(planned("sheave-inch"))
    drawn = drawing_as_svg(view)
    (words,) = [box for said, box in _texts(drawn) if said.startswith("bar Ø")]
    root = ElementTree.fromstring(drawn)
    (outline,) = [path.get("d", "") for path in root.iter(f"{SPACE}path") if path.get("class") == "tool-fill"][:1]
    across = [float(x) for x in re.findall(r"[ML](\S+) ", outline)]
    assert words.bounds[2] < min(across) or words.bounds[0] > max(across)


def test_what_a_lip_hides_is_dashed_and_what_a_rim_shows_is_drawn() -> None:
    for name in ("lip", "dish"):
        root = ElementTree.fromstring(drawing_as_svg(drawing_view(planned(name))))
        assert [path for path in root.iter(f"{SPACE}path") if path.get("class") == "unseen"]
    plain = drawing_as_svg(drawing_view(planned("handle")))
    assert 'class="unseen"' not in plain


def test_lengths_of_a_dished_end_count_from_its_rim() -> None:
    says = [said for said, _ in _texts(drawing_as_svg(drawing_view(planned("dish"))))]
    assert "12" in says
    assert "1.5" in says
    assert "10.5" not in says


def test_a_piece_already_shaped_is_drawn_from_the_bar_to_the_axis() -> None:
    view = drawing_view(planned("cored"))
    drawn = drawing_as_svg(view)
    (said,) = [words for words, _ in _texts(drawn) if words.startswith("piece Ø")]
    assert said == "piece Ø 44"
    written = re.search(r">([0-9.]+) : 1</text>", drawn)
    assert written
    scale = float(written[1])
    upper, lower = [
        d.get("d", "") for d in ElementTree.fromstring(drawn).iter(f"{SPACE}path") if d.get("class") == "stock"
    ][:2]
    for path in (upper, lower):
        xs, ys = zip(*[(float(x), float(y)) for x, y in re.findall(r"[ML](\S+) (\S+?)(?=[ML]|$)", path)], strict=True)
        assert max(xs) - min(xs) == pytest.approx(scale * (26 + 1), abs=0.02)
        assert max(ys) - min(ys) == pytest.approx(scale * (22 - 8), abs=0.02)  # from the outside to the hole behind
