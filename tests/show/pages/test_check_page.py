"""What the page Check shows."""

from tests.check.parts import places, shape
from tests.check.simulated import Wrong, as_csv, make, measure

from ovolo.check.checking import check, limits_of
from ovolo.check.measuring import measuring_list
from ovolo.documents.check.readings import readings_from_text
from ovolo.show.pages.check_page import check_page, measuring_page


def test_the_page_says_what_the_command_says() -> None:
    made = shape("dome")
    read = measure(make(made.job, made.moves, Wrong(cross=0.12), 4), places("dome"), 54)
    page = check_page(check(made.plan, readings_from_text(as_csv(read, u=0.01, u_z=0.02), made.plan.job)))
    assert page["verdict"] == "not good"
    assert page["causes"][0]["title"] == "Cross slide out of step"
    assert len(page["rows"]) == len(read)
    assert page["document"]["correction"]["plan"] is not None


def test_the_list_has_a_row_for_each_place() -> None:
    plan = shape("dome").plan
    advice = measuring_list(plan, limits_of(plan))
    page = measuring_page(plan, advice)
    assert len(page["places"]) == len(advice.places)
    assert page["says"]
