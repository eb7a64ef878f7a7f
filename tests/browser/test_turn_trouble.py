"""When it goes otherwise than planned: went past, something moved, lost, rehearsed; and every shifted figure."""

import json
import random
from collections.abc import Iterator
from itertools import pairwise
from typing import Any

import httpx
import pytest
from playwright.sync_api import Browser, Page, expect
from tests.browser.turning import APART, done, figure, job_of, kept, number, open_run, settled, take, to_figure
from tests.show.plans import planned

from ovolo.documents.reading import job_from_data
from ovolo.plan.planner import make_plan
from ovolo.predict.forecast.going_on import going_on
from ovolo.predict.forecast.overshoot import FARTHEST, overshoots
from ovolo.predict.forecast.sampled import between
from ovolo.shop.dials import dial_words
from ovolo.shop.slides import Slide

pytestmark = pytest.mark.browser


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    opened = browser.new_context(viewport={"width": 390, "height": 664}, has_touch=True)
    opened.set_default_timeout(60_000)
    yield opened.new_page()
    opened.close()


def facts_of(address: str, run: str) -> Any:
    """What a run's page carries."""
    text = httpx.get(f"{address}/run/{run}", follow_redirects=True, timeout=60).text
    return json.loads(text.split('id="facts">')[1].split("</script>")[0])


def asked(page: Page, address: str, module: str, script: str, given: Any) -> Any:
    """What a function of a module of the page says."""
    page.goto(f"{address}/")
    return page.evaluate(
        f"async given => {{ const m = await import('/static/now/turn/{module}.js'); {script} }}", given
    )


def test_answers_in_the_browser_are_those_worked_out(page: Page, address: str) -> None:
    plan, drawn = planned("bridge-pin"), random.Random(3)
    facts = facts_of(address, take(address))
    answers = [(answer.n, answer.below) for answer in overshoots(plan) if answer.below]
    further = [(answer.n, answer.ridge) for answer in going_on(plan) if answer]
    given, lines = [], []
    for _ in range(200):
        n, line = drawn.choice(answers)
        given.append({"n": n, "past": drawn.uniform(0, FARTHEST), "on": False})
        lines.append(line)
        n, line = drawn.choice(further)
        given.append({"n": n, "past": drawn.uniform(0, line[-1][0]), "on": True})
        lines.append(line)
    script = (
        "return given.list.map(one => { const move = given.facts.moves[one.n - 1]; return one.on ?"
        " m.onFrom(given.facts, move, one.past).ridge : m.belowAt(given.facts.farthest[0], move.below, one.past); });"
    )
    said = asked(page, address, "past", script, {"facts": facts, "list": given})
    for one, line, value in zip(given, lines, said, strict=True):
        assert value == pytest.approx(between(line, one["past"]), abs=1.5e-3), one


def test_dials_are_counted_in_the_browser_as_everywhere(page: Page, address: str) -> None:
    drawn = random.Random(5)
    slides = [
        Slide("saddle", "radius", "away", 0.05, per_turn=2.0, divisions=40),
        Slide("cross", "diameter", "in", 0.05, per_turn=2.0, divisions=40),
        Slide("cross", "radius", "out", 0.0127, unit=25.4, per_turn=2.54, divisions=100),
    ]
    given, words = [], []
    for _ in range(300):
        slide = drawn.choice(slides)
        start, end = (slide.figure(slide.place(1) * drawn.uniform(-30, 30)) for _ in range(2))
        given.append({"slide": as_given(slide), "from": start, "to": end})
        words.append(dial_words(slide, start, end))
    script = (
        "const stop = one => `stop at ${m.dialPlace(one.slide, one.to).division}`;"
        "return given.map(one => m.turnsPast(one.slide, one.from, one.to) + stop(one));"
    )
    assert asked(page, address, "figures", script, given) == words


def as_given(slide: Slide) -> dict[str, Any]:
    return {
        "per_mm": slide.factor / slide.unit,
        "per_turn": slide.per_turn,
        "divisions": slide.divisions,
        "count": slide.count / slide.unit,
        "decimals": slide.decimals,
        "diameter": False,
    }


@pytest.mark.parametrize(
    "name",
    ["winch-handle", "latch-pin-mixed", "latch-pin-mixed on hinge-pin-dials", "latch-pin-mixed on winch-pin-inch"],
)
@pytest.mark.parametrize("off", [-0.05, 0.1])
def test_shifted_figures_bring_the_tool_where_the_plan_has_it(page: Page, address: str, name: str, off: float) -> None:
    """The tool is off by a constant; what is measured at the stop then shifts every figure to where it cuts right."""
    run = take(address, name)
    plan, facts = make_plan(job_from_data(job_of(name))), facts_of(address, run)
    step = next(s for s in facts["steps"] if s["kind"] == "measure" and s["entries"])
    slides = {entry["slide"]: getattr(plan.job.shop, entry["slide"]) for entry in step["entries"]}
    measured = {
        e["slide"]: slides[e["slide"]].figure(slides[e["slide"]].place(e["figure"]) + off) for e in step["entries"]
    }
    tick = {"key": "k" * 16, "move": step["move"], "before": step["before"], "measured": measured, "by": "figures"}
    script = "return given.facts.moves.map((_, i) => m.aimOf(given.facts, [given.tick], i + 1).to);"
    aims = asked(page, address, "words", script, {"facts": facts, "tick": tick})
    shifted = 0
    for move, aim in zip(plan.moves, aims, strict=True):
        slide = plan.job.shop.slide(move.slide)
        if move.n < step["move"] or move.slide not in slides or move.tool != plan.moves[step["move"] - 1].tool:
            assert aim == pytest.approx(move.figure, abs=1e-9)
            continue
        there = slide.place(aim) + off  # where the tool then is
        assert there == pytest.approx(slide.place(move.figure), abs=slide.step / 2 + 1e-6)
        assert slide.figure(slide.place(aim)) == pytest.approx(aim, abs=1e-9)
        shifted += 1
    assert shifted


def test_past_is_answered_at_once_with_the_server_gone(page: Page, address: str) -> None:
    run = take(address)
    answer = next(a for a in overshoots(planned("bridge-pin")) if a.below and between(a.below, 0.01) > 0.003)
    ticks = [{"key": f"before-it-{m:08d}", "move": m, "at": "2026-03-01T10:20:30.123Z"} for m in range(1, answer.n)]
    assert page.request.put(f"{address}/api/runs/{run}/ticks", data=ticks).ok
    open_run(page, address, run)
    assert to_figure(page) == answer.n
    page.context.route("**/api/**", lambda route: route.abort())
    move = planned("bridge-pin").moves[answer.n - 1]
    slide = planned("bridge-pin").job.shop.slide(move.slide)
    way = 1 if move.toward in ("out", "away from the chuck") else -1
    stopped = slide.figure(slide.place(move.figure) + way * 0.5)
    page.get_by_role("button", name="I went past").click()
    if stopped < 0:
        page.get_by_role("button", name="minus", exact=True).click()
    for _ in range(12):
        page.get_by_role("button", name="delete", exact=True).click()
    for key in slide.text(stopped).removeprefix("Ø "):
        page.get_by_role("button", name={".": "point", "-": "minus"}.get(key, key), exact=True).click()
    done(page)
    expect(page.locator("#body")).to_contain_text("below the outline")
    done(page)
    assert number(page) == answer.n + 1
    page.context.unroute("**/api/**")
    found = settled(page, address, run, answer.n + 1)
    assert [t["stopped_at"] for t in found["ticks"] if t.get("stopped_at") is not None] == [pytest.approx(stopped)]


def stopped_past(page: Page, text: str) -> None:
    """Type on the pad of I went past where it stopped."""
    page.get_by_role("button", name="I went past").click()
    page.get_by_role("button", name="delete", exact=True).click()
    while page.locator(".typed").inner_text().strip(" Ø"):
        page.get_by_role("button", name="delete", exact=True).click()
    for key in text:
        page.get_by_role("button", name={".": "point", "-": "minus"}.get(key, key), exact=True).click()
    done(page)


def test_the_next_setting_is_taken_from_where_it_stopped(page: Page, address: str) -> None:
    plan = planned("bridge-pin")
    changes = {n for n, (a, b) in enumerate(pairwise(plan.moves), 1) if a.slide != b.slide}  # the other slide is next
    harmless = [a for a in going_on(plan) if a and a.n in changes and not any(d for _, d in a.below)]
    answer = next(a for a in harmless if between(a.ridge, 0.1) > 0.06)
    run = take(address)
    ticks = [{"key": f"before-it-{m:08d}", "move": m, "at": "2026-03-01T10:20:30.123Z"} for m in range(1, answer.n)]
    assert page.request.put(f"{address}/api/runs/{run}/ticks", data=ticks).ok
    open_run(page, address, run)
    assert to_figure(page) == answer.n
    move = plan.moves[answer.n - 1]
    slide = plan.job.shop.slide(move.slide)
    way = 1 if move.toward in ("out", "away from the chuck") else -1
    stopped = slide.text(slide.figure(slide.place(move.figure) + way * 0.1)).removeprefix("Ø ")
    stopped_past(page, stopped)
    further = page.get_by_role("button", name="Take the next setting from here")
    expect(further).to_contain_text(f"the ridge there becomes {between(answer.ridge, 0.1):.2f} mm")
    further.click()
    assert to_figure(page) == answer.n + 1  # past a stop to measure, where there is one
    expect(page.locator("#other")).to_contain_text(slide.text(float(stopped)).replace("-", "−"))
    found = settled(page, address, run, answer.n + 1)
    assert [t.get("back") for t in found["ticks"] if t.get("stopped_at") is not None] == [None]
    page.wait_for_timeout(APART)
    page.get_by_role("button", name="Back").click()
    stopped_past(page, stopped)
    done(page)  # brought back
    expect(page.locator("#other")).to_contain_text(move.shown.replace("-", "−"))
    found = settled(page, address, run, answer.n + 1)
    assert [t.get("back") for t in found["ticks"] if t.get("stopped_at") is not None] == [None, True]


def test_a_rehearsal_ticks_nothing_and_stays_clear(page: Page, address: str) -> None:
    run = take(address)
    open_run(page, address, run)
    to_figure(page)
    before = len(kept(address, run)["ticks"])
    page.get_by_role("button", name="More").click()
    page.get_by_role("button", name="Rehearse").click()
    expect(page.locator("#shift")).to_contain_text("Rehearsal: spindle stopped")
    moves, seen = kept(address, run)["plan"]["moves"], []
    for move in moves[:6]:
        seen.append(float(figure(page)) - move["set"])
        done(page)
    by = {round(one, 6) for one, move in zip(seen, moves, strict=False) if move["slide"] == "cross"}
    assert len(by) == 1
    assert min(by) >= 20
    assert {round(one, 6) for one, m in zip(seen, moves, strict=False) if m["slide"] == "saddle"} == {0.0}
    for _ in range(7):
        page.wait_for_timeout(APART)
        page.get_by_role("button", name="Back").click()
    expect(page.locator("#shift")).to_have_text("")
    assert number(page) == 1
    assert len(kept(address, run)["ticks"]) == before


def test_something_moved_leads_through_touching_off_and_ends_the_shift(page: Page, address: str) -> None:
    run = take(address, "winch-handle")  # a neck is measured before it is finished
    plan = kept(address, run)["plan"]
    n, stop = next((n, b) for n, b in enumerate(plan["before"], 1) if b["kind"] == "measure" and b.get("should"))
    at = "2026-03-01T10:20:30.123Z"
    ticks: list[dict[str, Any]] = [{"key": f"before-it-{m:08d}", "move": m, "at": at} for m in range(1, stop["move"])]
    figures = {slide: value + 0.04 for slide, value in stop["should"].items()}
    ticks.append(
        {
            "key": "measured-" + "0" * 9,
            "move": stop["move"],
            "at": at,
            "before": n,
            "measured": figures,
            "by": "figures",
        }
    )
    assert page.request.put(f"{address}/api/runs/{run}/ticks", data=ticks).ok
    open_run(page, address, run)
    place = to_figure(page)
    while plan["moves"][place - 1]["slide"] not in stop["should"]:
        done(page)
        place = to_figure(page)
    shown = plan["moves"][place - 1]
    assert float(figure(page)) == pytest.approx(shown["set"] - 0.04, abs=0.003)
    page.get_by_role("button", name="More").click()
    page.get_by_role("button", name="Something moved").click()
    page.get_by_role("button", name="The tool slipped, or its edge chipped").click()
    assert to_figure(page) == place
    assert float(figure(page)) == pytest.approx(shown["set"], abs=1e-6)
    assert [t["again"] for t in settled(page, address, run, place)["ticks"] if "again" in t] == [True]


def test_who_is_lost_is_led_out_and_back(page: Page, address: str) -> None:
    run = take(address)
    open_run(page, address, run)
    to_figure(page)
    for _ in range(4):
        done(page)
    page.get_by_role("button", name="More").click()
    page.get_by_role("button", name="I am lost").click()
    expect(page.locator("#body")).to_contain_text("cross slide out to")
    expect(page.locator("#body")).to_contain_text("does no harm")
    assert to_figure(page) <= 5


DIGITS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")


@pytest.mark.parametrize("name", ["bridge-pin", "hinge-pin-dials"])
def test_by_ear_alone_slide_way_and_figure_are_known(page: Page, address: str, name: str) -> None:
    facts = facts_of(address, take(address, name))
    script = "return given.moves.map((_, i) => m.aimOf(given, [], i + 1)).map(aim => [m.speechOf(aim), aim.text]);"
    for move, (words, text) in zip(facts["moves"], asked(page, address, "words", script, facts), strict=True):
        slide, way, rest = words.split(", ", 2)
        figures = {"minus": "-", "point": ".", **{word: str(i) for i, word in enumerate(DIGITS)}}
        heard = rest.rsplit("to " if "stop at" not in rest else "stop at ", 1)[1]
        assert (slide, way) == (facts["slides"][move["slide"]]["name"], move["toward"])
        assert "".join(figures[word] for word in heard.split()) == text


def test_check_starts_from_what_was_measured_and_went_past(page: Page, address: str) -> None:
    job = httpx.post(f"{address}/api/jobs", json=job_of("winch-handle"), timeout=60).json()["id"]
    plan = kept(address, take(address, "winch-handle"))["plan"]
    run = httpx.post(f"{address}/api/runs?of={job}", json={"plan": plan}, timeout=120).json()["run"]
    n, stop = next((n, b) for n, b in enumerate(plan["before"], 1) if b["kind"] == "measure" and b.get("should"))
    at, measured = "2026-03-01T10:20:30.123Z", dict.fromkeys(stop["should"], 99.5)
    ticks: list[dict[str, Any]] = [
        {"key": "went-past-0123456", "move": 1, "at": at, "stopped_at": 77.25, "back": True},
        {
            "key": "measured-01234567",
            "move": stop["move"],
            "at": at,
            "before": n,
            "measured": measured,
            "by": "readout",
        },
    ]
    assert httpx.put(f"{address}/api/runs/{run}/ticks", json=ticks).status_code == 200
    page.goto(f"{address}/jobs/{job}/check")
    expect(page.locator("#run-left")).to_contain_text("measured 99.5 where it should be")
    expect(page.locator("#run-left")).to_contain_text("stopped at 77.25 instead of")
