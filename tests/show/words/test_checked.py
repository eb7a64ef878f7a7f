"""What the command says of a part, and the list of what to measure."""

from tests.check.parts import places, shape
from tests.check.simulated import Wrong, as_csv, make, measure

from ovolo.check.checking import check, limits_of
from ovolo.check.measuring import measuring_list
from ovolo.documents.check.readings import readings_from_text
from ovolo.show.words.checked import ASSUMED, checked_as_text, measuring_as_csv, measuring_as_text


def test_the_verdict_comes_first_and_every_reading_is_there() -> None:
    made = shape("dome")
    read = measure(make(made.job, made.moves, Wrong(cross=0.12), 4), places("dome"), 54)
    found = check(made.plan, readings_from_text(as_csv(read, u=0.01, u_z=0.02), made.plan.job))
    text = checked_as_text(found)
    assert text.startswith("Not good: ")
    assert text.count("Ø") == 2 * len(read)
    assert ASSUMED in text
    assert ASSUMED not in checked_as_text(found, assumed=False)


def test_the_list_can_be_filled_in_and_read_back() -> None:
    plan = shape("dome").plan
    advice = measuring_list(plan, limits_of(plan))
    text = measuring_as_text(plan, advice)
    assert text.count("Ø") == len(advice.places)
    filled = measuring_as_csv(plan, advice).replace(",,", ",18.00,")
    assert len(readings_from_text(filled, plan.job).readings) == len(advice.places)
