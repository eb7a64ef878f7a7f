"""The sheet: read back from its PDF."""

import itertools
import re
from dataclasses import replace
from io import BytesIO
from typing import Any

import pypdf
import pypdfium2
import pytest
from tests.show.plans import NAMES, planned

from ovolo.plan.model import Before, Plan
from ovolo.predict.loads.power_feed import feed_offs
from ovolo.show.paper.title_block import title_block
from ovolo.show.sheet.sheet import FEWEST, Line, Paper, grouped, paired, sheet_as_pdf, sheet_view
from ovolo.show.words.table import Row, moves_table


def _pages(made: bytes) -> list[str]:
    document = pypdfium2.PdfDocument(made)
    return [page.get_textpage().get_text_range().replace("\r", "").replace("−", "-") for page in document]


def _many(plan: Plan, count: int) -> Plan:
    """The plan's moves, then those that finish again and again, numbered on: for the length of it."""
    finish = itertools.cycle(move for move in plan.moves if move.stage == "finish")
    moves = itertools.islice(itertools.chain(plan.moves, finish), count)
    return replace(plan, moves=tuple(replace(move, n=n) for n, move in enumerate(moves, 1)))


@pytest.mark.parametrize("name", NAMES)
def test_every_move_is_on_it_once_with_its_figure(name: str) -> None:
    plan = planned(name)
    pages = _pages(sheet_as_pdf(plan))
    text = _joined("\n".join(pages))
    for move in plan.moves:
        assert re.search(rf"(?:^| ){move.n} (saddle|cross slide|top slide) [^\n]*?{_figure(move.shown)} ", text), move


def _figure(shown: str) -> str:
    """A figure as it is printed: on a dial the figure, how often 0 goes by, then the division."""
    figure, _, turns = shown.partition(": ")
    *often, stop = re.sub(r"past 0 (\d+) times", r"\1 × past 0", turns).split(", ")
    return re.escape(" ".join([", ".join([figure, *often]), stop]).strip())


def _joined(text: str) -> str:
    """All in one line: a line of the sheet holds two moves."""
    return " ".join(text.split()) + " "


@pytest.mark.parametrize("name", ["bridge-pin", "handle"])
def test_every_page_says_what_it_belongs_to(name: str) -> None:
    plan = planned(name)
    pages = _pages(sheet_as_pdf(plan, revision="C"))
    for number, page in enumerate(pages, 1):
        assert f"plan {title_block(plan).plan} · revision C" in page
        assert f"page {number} of {len(pages)}" in page
        assert plan.job.title[:24] in page


def test_the_first_page_draws_and_the_last_one_checks() -> None:
    pages = _pages(sheet_as_pdf(planned("bridge-pin")))
    for words in ("Ø 18", "R 9", "Set-up", "Scale of the drawing", "Highest ridge"):
        assert words in pages[0]
    assert "Checking" in pages[-1]
    assert "finished Ø" in pages[-1]
    assert any("Cautions" in page and "Eye protection" in page for page in pages)
    assert any("rev/min" in page for page in pages[:2])


@pytest.mark.parametrize(
    ("name", "paper"),
    [
        ("bridge-pin", "a4"),
        ("winch-handle", "a4"),
        ("winch-handle", "letter"),
        ("sheave-inch", "letter"),
        ("hinge-pin-dials", "letter"),
    ],
)
def test_the_first_page_has_tools_speeds_and_cautions(name: str, paper: Paper) -> None:
    first = " ".join(_pages(sheet_as_pdf(planned(name), paper=paper))[0].split())
    for words in ("Highest ridge", "Cautions", "1. The bar", "2. The tool", "Never faster than chuck"):
        assert words in first, words
    assert "where the nose touches" in first, "the drawing has room for its key"


def test_the_same_plan_gives_the_same_bytes() -> None:
    assert sheet_as_pdf(planned("bridge-pin")) == sheet_as_pdf(planned("bridge-pin"))


@pytest.mark.parametrize(("paper", "size"), [("a4", (595.28, 841.89)), ("letter", (612, 792))])
def test_on_both_papers(paper: Paper, size: tuple[float, float]) -> None:
    document = pypdf.PdfReader(BytesIO(sheet_as_pdf(planned("bridge-pin"), paper=paper)))
    for page in document.pages:
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(size, abs=0.1)


def test_it_is_tagged_titled_and_says_its_language() -> None:
    document = pypdf.PdfReader(BytesIO(sheet_as_pdf(planned("bridge-pin"))))
    root: Any = document.root_object
    assert root["/MarkInfo"]["/Marked"]
    assert str(root["/Lang"]).startswith("en")
    assert document.metadata is not None
    assert document.metadata.title == "Bridge pin, domed end"
    assert b"pdfuaid" in document.xmp_metadata.rdf_root.toxml().encode() if document.xmp_metadata else False


def test_a_thousand_moves() -> None:
    plan = _many(planned("bridge-pin"), 1000)
    pages = _pages(sheet_as_pdf(plan))
    assert re.search(r" 1000 (saddle|cross)", _joined("\n".join(pages)))
    for page in pages[2:-1]:
        assert "until it reads" in page
        assert len(re.findall(r" \d+ (?:saddle|cross) ", _joined(page))) >= FEWEST


def test_sixty_moves_fit_three_pages_with_all_else_and_a_hundred_and_fifty_six() -> None:
    plan = planned("bridge-pin")
    assert len(_pages(sheet_as_pdf(_many(plan, 60)))) <= 3
    assert len(_pages(sheet_as_pdf(_many(plan, 150)))) <= 6


def test_a_cut_and_its_return_share_a_line_and_what_comes_before_a_move_begins_one() -> None:
    def row(n: int, *, cuts: bool = False, before: tuple[str, ...] = ()) -> Row:
        return Row(n, "", "saddle", "", "", cuts, "", False, None, None, "", before)

    def numbers(rows: list[Row]) -> list[list[int]]:
        return [[row.n for row in line.rows] for line in paired(rows)]

    assert numbers([row(1), row(2, cuts=True), row(3), row(4)]) == [[1], [2, 3], [4]]
    assert numbers([row(1), row(2), row(3, before=("Lock",)), row(4)]) == [[1, 2], [3, 4]]
    assert numbers([row(1), row(2, before=("Lock",)), row(3)]) == [[1], [2, 3]]
    assert numbers([]) == []


def test_what_most_moves_have_in_common_is_said_once() -> None:
    (rough, finish) = sheet_view(planned("bridge-pin"), "2 : 1", "1").stages
    assert rough.usual == "within 0.100 in a cut; within 0.500 elsewhere"
    assert "in a cut lock the other slide" in finish.usual
    rows = [row for group in finish.groups for row in group.rows]
    assert not any(row.lock for row in rows)
    assert all(row.within for row in rows if row.within not in ("", "0.005"))


def test_what_comes_before_a_move_stands_above_it() -> None:
    plan = planned("bridge-pin")
    told = replace(plan, before=(Before(7, "say", "Wipe the slides"),))
    text = "\n".join(_pages(sheet_as_pdf(told)))
    assert text.index("Wipe the slides") < text.index(plan.moves[6].shown, text.index("Wipe the slides"))
    assert text.index("Wipe the slides") > 0


def test_nothing_leaves_the_page() -> None:
    long = "A title as long as a wet week in the lock-keeper's cottage " * 4
    plan = planned("winch-pin-inch")
    plan = replace(plan, job=replace(plan.job, title=long))
    plan = replace(plan, moves=tuple(replace(m, shown="12 turns and 37 1/2 divisions") for m in plan.moves))
    document = pypdfium2.PdfDocument(sheet_as_pdf(plan))
    for page in document:
        text, (width, height) = page.get_textpage(), page.get_size()
        for k in range(text.count_chars()):
            if text.get_text_range(k, 1).strip():
                left, low, right, top = text.get_charbox(k)
                assert 36 < left <= right < width - 36
                assert 20 < low <= top < height - 20


def test_lines_stay_in_fives_and_none_stands_alone() -> None:
    lines = tuple(Line(()) for _ in range(23))
    assert [len(group.lines) for group in grouped(lines)] == [5, 5, 5, 5, 3]
    assert [len(group.lines) for group in grouped(lines[:21])] == [5, 5, 5, 6]
    assert [len(group.lines) for group in grouped(lines[:1])] == [1]
    assert [group.lines for group in grouped(())] == [()]


def test_the_view_holds_every_row_of_the_table() -> None:
    plan = planned("bush")
    view = sheet_view(plan, "2 : 1", "1")
    shown = [row for stage in view.stages for group in stage.groups for row in group.rows]
    table = [row for section in moves_table(plan).sections for row in section.rows]
    assert [(row.n, row.figure, row.before) for row in shown] == [(row.n, row.figure, row.before) for row in table]


def test_a_dial_says_where_to_stop_below_the_figure() -> None:
    plan = planned("winch-pin-inch")
    wound = replace(plan, moves=tuple(replace(m, shown="Ø -0.250: past 0 7 times, stop at 75") for m in plan.moves))
    pages = [_joined(page) for page in _pages(sheet_as_pdf(wound))]
    assert pages[2].count("Ø -0.250, 7 × past 0 stop at 75") > 5
    assert "saddle toward the chuck" in " ".join(pages)


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("name", ["bridge-pin", "guide-pin"])
def test_power_feed_is_knocked_off_above_the_figure_to_stop_at(name: str, paper: Paper) -> None:
    plan = planned(name)
    text = _joined("\n".join(_pages(sheet_as_pdf(plan, paper=paper))))
    offs = feed_offs(plan)
    assert offs
    for move in plan.moves:
        if move.n in offs:  # on a dial "-42.50: past 0 29 times, stop at 50": 29 × past 0, at 50
            off, stop = offs[move.n].shown.split(": ")[0], move.shown.split(": ")[0]
            assert re.search(rf" {move.n} \w[^|]*?{stop}\b[^|]*?feed off {off}\b", text), move
    assert text.count("feed off") == len(offs) + 1  # once in the legend


def test_a_reader_without_a_screen_has_all_he_is_referred_to() -> None:
    pages = _pages(sheet_as_pdf(planned("bridge-pin")))
    ahead = _joined(" ".join(pages[:2]))
    assert "What to expect says how far under the drawn one it may lie" in ahead
    assert "finished outline will lie between" in ahead
    assert ahead.count("rev/min") >= 2
    assert "Spindle for mild steel" not in ahead, "the speeds stand in the setting-up"


def test_columns_are_explained_and_named_as_on_the_sheet() -> None:
    plan = planned("hinge-pin-dials")
    text = "\n".join(_pages(sheet_as_pdf(plan)))
    legend = dict(sheet_view(plan, "2 : 1", "1").legend)
    assert {"until it reads", "past", "lock", "within"} <= set(legend)
    joined = _joined(text)
    assert all(f"{term}: {says}"[:60] in joined for term, says in legend.items())


def test_moves_that_go_past_on_purpose_say_so() -> None:
    plan = planned("hinge-pin-dials")
    past = [row for section in moves_table(plan).sections for row in section.rows if row.past]
    assert past
    text = "\n".join(_pages(sheet_as_pdf(plan)))
    assert len(re.findall(r"by \d+\.\d+, past\b", _joined(text))) == len(past)


def test_the_handwheel_is_said_where_the_job_tells() -> None:
    plan = planned("bridge-pin")
    shop = plan.job.shop
    told = replace(plan, job=replace(plan.job, shop=replace(shop, cross=replace(shop.cross, clockwise="in"))))
    text = "\n".join(_pages(sheet_as_pdf(told)))
    into = sum(move.slide == "cross" and move.toward == "in" for move in plan.moves)
    assert _joined(text).count("in, clockwise") == into


def test_nothing_to_set_up_is_torn_in_two() -> None:
    view = sheet_view(planned("bridge-pin"), "2 : 1", "1")
    pages = [" ".join(page.split()) for page in _pages(sheet_as_pdf(planned("bridge-pin")))]
    for item in view.setting_up:
        assert any(item.title in page and item.lines[-1].replace("−", "-")[-40:] in page for page in pages), item.title


@pytest.mark.parametrize("name", ["sheave-inch", "hinge-pin-dials"])
def test_the_moves_are_headed_on_the_page_where_they_begin(name: str) -> None:
    (page,) = [page for page in _pages(sheet_as_pdf(planned(name))) if "One slide is wound at a time" in page]
    assert "until it reads" in page
    assert re.search(r" 1 (?:saddle|cross)", _joined(page))


@pytest.mark.parametrize("name", ["sheave-inch", "winch-pin-inch"])
def test_figures_stand_below_one_another_in_all_stages(name: str) -> None:
    document = pypdfium2.PdfDocument(sheet_as_pdf(planned(name)))
    rights = []
    for page in document:
        text = page.get_textpage()
        words, start = text.get_text_range(), 0
        while (start := words.find("until it reads", start)) >= 0:
            rights.append(text.get_charbox(start)[0])
            start += 1
    assert len(rights) > 2
    assert len({round(right) for right in rights}) == 2, "two moves a line"


@pytest.mark.parametrize("name", ["sheave-inch", "winch-pin-inch"])
def test_the_sheet_of_an_inch_job_is_in_inches_everywhere(name: str) -> None:
    text = "\n".join(_pages(sheet_as_pdf(planned(name))))
    assert "figures in in" in text.replace("inches", "in")
    assert not re.findall(r"[^\n]*\bmm\b[^\n]*", text)
