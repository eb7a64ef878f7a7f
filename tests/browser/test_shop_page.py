"""Shop: tools with their pictures, the lathe, shops that are kept and taken into another job."""

import re

import pytest
from playwright.sync_api import Locator, Page, expect
from tests.browser.conftest import DESK, PHONE
from tests.browser.steps import EDGE, open_formed, open_pin, planned, saved, typed

pytestmark = pytest.mark.browser


def test_a_tool_is_added_and_drawn(page: Page) -> None:
    open_pin(page, "shop")
    expect(page.locator("#tools svg")).to_have_count(2)
    page.get_by_role("button", name="Add a knife tool").click()
    expect(page.locator("#tools svg")).to_have_count(3)
    third = page.locator("#tools > li").nth(2)
    expect(third.get_by_label("Name")).to_have_value("right-hand knife, 2")
    typed(third.get_by_label("Included angle °"), "35")
    expect(third.locator("svg")).to_contain_text("35°")
    typed(third.get_by_label("Nose radius R"), "-1")
    expect(third.get_by_label("Nose radius R")).to_have_attribute("aria-invalid", "true")
    third.get_by_role("button", name="Take right-hand knife, 2 out").click()
    expect(page.locator("#tools > li")).to_have_count(2)


def test_speeds_are_a_list(page: Page) -> None:
    open_pin(page, "shop")
    typed(page.get_by_label("Spindle speeds"), "70, 200; 360")
    saved(page)
    page.reload()
    expect(page.get_by_label("Spindle speeds")).to_have_value("70, 200, 360")


def _under_feed(page: Page, where: str) -> int:
    """How many moves of the plan of the job as it is kept run under power feed."""
    document = page.request.get(f"/api{where}").json()["document"]
    view = page.request.post("/api/plan/view", data=document).json()
    return sum(bool(row["feed_off"]) for section in view["sections"] for row in section["rows"])


def test_power_feed_is_told_and_the_plan_says_where_to_knock_it_off(page: Page) -> None:
    where = open_pin(page, "shop")
    feed = page.get_by_label("Power feed")
    for choice, some in (("saddle and cross slide", True), ("saddle", True), ("none", False)):
        feed.select_option(choice)
        saved(page)
        many = _under_feed(page, where)
        assert bool(many) == some
        page.goto(f"{where}/plan")
        planned(page)
        expect(page.locator("#rows").get_by_text("feed off at")).to_have_count(many)
        expect(page.locator("#power-feed")).to_have_text(re.compile(f"^{many} of the" if many else "^$"))
        page.goto(f"{where}/shop")
        expect(feed.locator("option:checked")).to_have_text(choice)


def test_a_shop_is_kept_and_taken_into_another_job(page: Page) -> None:
    open_pin(page, "shop")
    typed(page.locator("#f-slide\\.cross\\.count"), "0.02")
    page.get_by_label("Keep this one as").fill("The old lathe")
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.locator("#shop-says")).to_contain_text("is kept")
    open_pin(page, "shop")
    expect(page.locator("#f-slide\\.cross\\.count")).to_have_value("0.01")
    page.get_by_label("Kept shops").select_option("The old lathe")
    page.get_by_role("button", name="Use this shop").click()
    expect(page.locator("#f-slide\\.cross\\.count")).to_have_value("0.02")
    saved(page)


def field(page: Page, path: str) -> Locator:
    """The field of one value of the job."""
    return page.locator(f"[data-path='{path}']")


@pytest.mark.parametrize("context", [DESK, PHONE], indirect=True, ids=["desk", "phone"])
def test_the_top_slide_is_added_told_and_taken_out(page: Page) -> None:
    where = open_pin(page, "shop")
    expect(page.locator("#slide-top")).to_be_hidden()
    page.get_by_role("button", name="Add the top slide").click()
    travel = field(page, "slide.top.travel")
    expect(travel).to_be_focused()
    expect(travel).to_have_attribute("aria-invalid", "true")
    note = page.locator(f"#{travel.get_attribute('aria-describedby')}")
    expect(note).to_contain_text("It is missing")
    typed(travel, "60")
    expect(travel).not_to_have_attribute("aria-invalid", "true")
    field(page, "slide.top.grows").select_option("toward")
    field(page, "slide.top.lock").select_option("false")
    expect(page.locator("#says-top")).to_have_text("Wind it away from the chuck by 1: its figure falls by 1.")
    field(page, "limits.slides").select_option("cross, top")
    saved(page)
    document = page.request.get(f"/api{where}").json()["document"]
    assert document["slide"]["top"] == {"travel": 60, "grows": "toward", "lock": False}
    assert document["limits"]["slides"] == ["cross", "top"]
    page.reload()
    expect(field(page, "limits.slides")).to_have_value("cross, top")
    expect(field(page, "slide.top.lock")).to_have_value("false")
    page.get_by_role("button", name="Take the top slide out").click()
    expect(page.locator("#slide-top")).to_be_hidden()
    expect(page.get_by_role("button", name="Add the top slide")).to_be_focused()
    saved(page)
    document = page.request.get(f"/api{where}").json()["document"]
    assert "top" not in document["slide"]
    assert "slides" not in document["limits"]


def test_the_top_slide_by_keyboard_alone(page: Page) -> None:
    open_pin(page, "shop")
    page.locator("#add-top").focus()
    page.keyboard.press("Enter")
    page.keyboard.type("60")
    page.keyboard.press("Tab")
    expect(field(page, "slide.top.clockwise")).to_be_focused()
    expect(page.locator("#says-top")).to_contain_text("rises by 1")
    saved(page)
    page.locator("#remove-top").focus()
    page.keyboard.press("Enter")
    expect(page.locator("#slide-top")).to_be_hidden()
    page.keyboard.press("Control+z")
    expect(field(page, "slide.top.travel")).to_have_value("60")


def test_winding_tells_how_the_top_slide_reads(page: Page) -> None:
    open_pin(page, "shop")
    page.get_by_role("button", name="Add the top slide").click()
    typed(field(page, "slide.top.travel"), "60")
    check = page.locator('.check[data-slide="top"]')
    check.get_by_text("Find out by winding it").click()
    typed(check.get_by_label("by a travel of"), "10")
    typed(check.get_by_label("It showed"), "0")
    typed(check.get_by_label("Now it shows"), "-10")
    check.get_by_role("button", name="What does that mean?").click()
    expect(check.locator(".found")).to_contain_text("as the top slide goes toward the chuck")
    expect(page.locator("#says-top")).to_contain_text("falls by 1")


def test_the_centre_is_asked_for_where_there_is_one(page: Page) -> None:
    open_pin(page, "shop")
    expect(field(page, "lathe.centre_hole")).to_be_hidden()
    field(page, "lathe.holding").select_option("chuck and centre")
    typed(field(page, "lathe.centre_hole"), "4")
    expect(field(page, "lathe.centre_body")).to_have_attribute("aria-invalid", "true")
    typed(field(page, "lathe.centre_body"), "17.8")
    expect(field(page, "lathe.centre_body")).not_to_have_attribute("aria-invalid", "true")


def test_a_pace_is_folded_and_a_fault_unfolds_it(page: Page) -> None:
    open_pin(page, "shop")
    turn = field(page, "pace.turn")
    expect(turn).to_be_hidden()
    page.get_by_text("Pace: how long you take").click()
    expect(page.locator("#pace")).to_contain_text("To wind it once without cutting.")
    expect(turn).to_have_attribute("placeholder", "1.5")
    typed(turn, "-1")
    expect(turn).to_have_attribute("aria-invalid", "true")
    page.get_by_text("Pace: how long you take").click()
    typed(field(page, "slide.cross.count"), "0.02")
    expect(turn).to_be_visible()
    typed(turn, "1,25")
    expect(turn).not_to_have_attribute("aria-invalid", "true")
    assert str(turn.get_attribute("aria-describedby")).startswith("says-")


def test_a_shop_carries_top_slide_centre_and_pace(page: Page) -> None:
    """And one without them takes them away: what is taken is that shop, no mixture of two."""
    shop = {
        "slide": {"top": {"travel": 60, "count": 0.02}, "cross": {"count": 0.02}},
        "limits": {"slides": ["saddle", "cross", "top"]},
        "lathe": {"holding": "chuck and centre", "centre_hole": 4, "centre_body": 17.8},
        "pace": {"turn": 2, "setting": 11},
    }
    first = open_pin(page, "shop")
    kept = page.request.get(f"/api{first}").json()
    bare = {key: value for key, value in kept["document"].items() if key not in shop}
    page.request.put(f"/api{first}", data={"revision": kept["revision"], "document": {**bare, **shop}, "said": "test"})
    page.reload()
    page.get_by_label("Keep this one as").fill("The long bench")
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.locator("#shop-says")).to_contain_text("is kept")
    second = open_pin(page, "shop")
    page.get_by_label("Keep this one as").fill("The bare bench")
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.locator("#shop-says")).to_contain_text("is kept")
    before = page.request.get(f"/api{second}").json()["document"]
    page.get_by_label("Kept shops").select_option("The long bench")
    page.get_by_role("button", name="Use this shop").click()
    expect(page.locator("#slide-top")).to_be_visible()
    saved(page)
    taken = page.request.get(f"/api{second}").json()["document"]
    assert {key: taken[key] for key in shop} == shop
    page.get_by_label("Kept shops").select_option("The bare bench")
    page.get_by_role("button", name="Use this shop").click()
    expect(page.locator("#slide-top")).to_be_hidden()
    saved(page)
    assert page.request.get(f"/api{second}").json()["document"] == before


def test_a_slide_wound_the_wrong_way_is_told(page: Page) -> None:
    open_pin(page, "shop")
    check = page.locator('.check[data-slide="saddle"]')
    check.get_by_text("Find out by winding it").click()
    typed(check.get_by_label("by a travel of"), "10")
    typed(check.get_by_label("It showed"), "0")
    typed(check.get_by_label("Now it shows"), "-10")
    check.get_by_role("button", name="What does that mean?").click()
    expect(check.locator(".found")).to_contain_text("toward the chuck")
    expect(page.locator("#says-saddle")).to_contain_text("falls by 1")


def edge(page: Page, where: str) -> list[dict[str, object]]:
    """The outline of the job's first tool, as it is kept."""
    saved(page)
    outline: list[dict[str, object]] = page.request.get(f"/api{where}").json()["document"]["tool"][0]["outline"]
    return outline


def test_a_form_tool_is_drawn_and_kept_as_it_was_told(page: Page) -> None:
    """What else is changed on the page leaves its outline alone."""
    where = open_formed(page)
    only = page.locator("#tools > li").first
    expect(only.get_by_label("Nose radius R")).to_have_count(0)
    typed(only.get_by_label("Name"), "ground tool")
    typed(page.locator("#f-slide\\.cross\\.count"), "0.02")
    assert edge(page, where) == EDGE
    page.reload()
    expect(only.get_by_label("Name")).to_have_value("ground tool")
    page.goto(f"{where}/plan")
    expect(page.locator("#sentence strong")).to_be_visible()


@pytest.mark.parametrize("context", [DESK, PHONE], indirect=True, ids=["desk", "phone"])
def test_the_edge_of_a_form_tool_is_edited_and_its_faults_stand_where_they_arise(page: Page) -> None:
    where = open_formed(page)
    only, picture = page.locator("#tools > li").first, page.locator("#picture-0")
    expect(only.locator("tbody tr")).to_have_count(3)
    expect(picture).to_contain_text("5")
    typed(only.get_by_label("z of point 3"), "6")
    expect(picture.get_by_text("6", exact=True)).to_be_visible()
    radius = only.get_by_label("radius of the arc to point 3")
    typed(radius, "1")
    expect(radius).to_have_attribute("aria-invalid", "true")
    expect(only.locator("p.fault-here")).to_contain_text("cannot span")
    expect(picture).to_have_class("picture stale")
    radius.fill("")
    radius.press("Tab")
    expect(only.locator("p.fault-here")).to_have_count(0)
    expect(picture).to_have_class("picture")
    typed(only.get_by_label("height of point 2"), "3")
    expect(only.get_by_label("z of point 2")).to_have_attribute("aria-invalid", "true")
    expect(only.locator("p.fault-here")).to_contain_text("turns into the tool")
    only.get_by_role("button", name="Remove point 2").click()
    expect(only.locator("p.fault-here")).to_have_count(0)
    expect(only.get_by_role("button", name="Remove point 2")).to_be_focused()
    assert edge(page, where) == [{"z": 0, "r": 2}, {"z": 6, "r": 0.5}]
    only.get_by_role("button", name="Remove point 1").click()
    expect(only.get_by_label("z of point 1")).to_have_attribute("aria-invalid", "true")


def test_the_edge_of_a_form_tool_by_keyboard_alone(page: Page) -> None:
    where = open_formed(page)
    only = page.locator("#tools > li").first
    only.get_by_label("z of point 1").focus()
    for _ in range(3):
        page.keyboard.press("Tab")
    expect(only.get_by_label("z of point 2")).to_be_focused()
    page.keyboard.type("2.5")
    for _ in range(8):
        page.keyboard.press("Tab")
    add = only.get_by_role("button", name="Add a point at the end")
    expect(add).to_be_focused()
    page.keyboard.press("Enter")
    expect(only.get_by_label("z of point 4")).to_be_focused()
    page.keyboard.type("6")
    for _ in range(3):
        page.keyboard.press("Tab")
    expect(only.get_by_role("button", name="Remove point 4")).to_be_focused()
    assert [point["z"] for point in edge(page, where)] == [0, 2.5, 5, 6]
    page.keyboard.press("Enter")
    expect(only.get_by_role("button", name="Remove point 3")).to_be_focused()
    page.keyboard.press("Control+z")
    expect(only.get_by_label("z of point 4")).to_have_value("6")


def test_a_point_is_added_halfway_along_the_piece_behind(page: Page) -> None:
    """A half circle becomes two quarters with the same radius; what is added at the end goes on straight ahead."""
    where = open_formed(page, [{"z": 0, "r": 0}, {"z": 6, "r": 0, "convex": 3}])
    only = page.locator("#tools > li").first
    only.get_by_label("height of point 1").focus()
    only.get_by_role("button", name="Add a point after 1").click()
    half = {"z": 3, "r": -3, "convex": 3}
    assert edge(page, where) == [{"z": 0, "r": 0}, half, {"z": 6, "r": 0, "convex": 3}]
    only.get_by_label("height of point 3").focus()
    only.get_by_role("button", name="Add a point at the end").click()
    z, r = (edge(page, where)[3][name] for name in ("z", "r"))
    assert z == 6
    assert isinstance(r, int | float)
    assert r > 0
    expect(only.locator("p.fault-here")).to_have_count(0)


def test_a_third_point_of_an_arc_is_shown_and_taken_out(page: Page) -> None:
    where = open_formed(page, [{"z": 0, "r": 0}, {"z": 6, "r": 0, "through": [3, -2]}])
    only = page.locator("#tools > li").first
    typed(only.get_by_label("height of a third point of the arc to point 2"), "1")
    expect(only.get_by_label("z of a third point of the arc to point 2")).to_have_attribute("aria-invalid", "true")
    expect(only.locator("p.fault-here")).to_contain_text("bulges into the tool")
    only.get_by_role("button", name="Take the third point out").click()
    expect(only.get_by_label("radius of the arc to point 2")).to_be_focused()
    assert edge(page, where) == [{"z": 0, "r": 0}, {"z": 6, "r": 0}]


def test_a_form_tool_is_added_and_its_outline_may_be_nothing(page: Page) -> None:
    where = open_formed(page, [])
    page.get_by_role("button", name="Add a form tool").click()
    expect(page.locator("#tools svg")).to_have_count(1)
    first = page.locator("#tools > li").first
    first.get_by_role("button", name="Add a point at the end").click()
    expect(page.locator("#tools svg")).to_have_count(2)
    assert edge(page, where) == [{"z": 0, "r": 0}, {"z": 1, "r": 0}]


@pytest.mark.parametrize("context", [PHONE], indirect=True, ids=["phone"])
def test_a_finger_finds_the_fields_of_an_edge(page: Page) -> None:
    open_formed(page, [{"z": 0, "r": 0}, {"z": 6, "r": 0, "through": [3, -2]}])
    for target in page.locator(".edge input, .edge button").all():
        box = target.bounding_box()
        assert box
        assert box["height"] >= 44
        assert box["width"] >= 44


@pytest.mark.parametrize("context", [DESK, PHONE], indirect=True, ids=["desk", "phone"])
def test_a_grooving_blade_is_added_and_drawn(page: Page) -> None:
    open_pin(page, "shop")
    page.get_by_role("button", name="Add a grooving blade").click()
    expect(page.locator("#tools svg")).to_have_count(3)
    blade = page.locator("#tools > li").nth(2)
    expect(blade.get_by_label("Name")).to_have_value("grooving blade")
    expect(blade.get_by_label("Width", exact=True)).to_have_value("3")
    typed(blade.get_by_label("Width", exact=True), "0.3")
    expect(blade.get_by_label("Width", exact=True)).to_have_attribute("aria-invalid", "true")
    typed(blade.get_by_label("Width", exact=True), "4")
    expect(blade.get_by_label("Width", exact=True)).not_to_have_attribute("aria-invalid", "true")


def test_how_well_a_nose_is_known_is_told(page: Page) -> None:
    where = open_pin(page, "shop")
    known = page.locator("#tools > li").first.get_by_label("Standard uncertainty of R")
    expect(known).to_have_value("")
    typed(known, "0.03")
    saved(page)
    tool = page.request.get(f"/api{where}").json()["document"]["tool"][0]
    assert tool["nose_radius_u"] == 0.03
    typed(known, "-1")
    expect(known).to_have_attribute("aria-invalid", "true")


def test_how_far_the_jaws_stand_over_the_bar_is_told(page: Page) -> None:
    where = open_pin(page, "shop")
    typed(field(page, "lathe.jaws"), "6")
    saved(page)
    assert page.request.get(f"/api{where}").json()["document"]["lathe"]["jaws"] == 6
    page.reload()
    expect(field(page, "lathe.jaws")).to_have_value("6")
