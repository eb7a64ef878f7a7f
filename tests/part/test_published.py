import math

import pytest

from ovolo.errors import FaultsFound
from ovolo.part import published as pub


@pytest.mark.parametrize("row", pub.MORSE_TAPERS)
def test_a_taper_in_mm_is_the_one_in_inches(row: pub.MorseTaper) -> None:
    assert (row.gauge - row.small) / row.plug == pytest.approx(1 / row.ratio, rel=1e-4)
    assert 2 * math.tan(row.half_angle) * row.ratio == pytest.approx(1)


@pytest.mark.parametrize("rows", [pub.UNDERCUTS, pub.FATIGUE_UNDERCUTS])
def test_undercuts_grow_with_the_diameter_and_end_open(rows: tuple[pub.Undercut, ...]) -> None:
    assert [row.up_to for row in rows] == sorted(row.up_to for row in rows)
    assert [row.depth for row in rows] == sorted(row.depth for row in rows)
    assert rows[-1].up_to == math.inf


def test_no_shape_holds_two_rows_of_one_size() -> None:
    for sizes in (
        [row.ball for row in pub.BALL_KNOBS],
        [row.pilot for row in pub.CENTRE_HOLES],
        [row.pilot for row in pub.RADIUS_CENTRE_HOLES],
        [row.diameter for row in pub.THREADS],
    ):
        assert sizes == sorted(set(sizes))


def test_form_r_has_the_pilot_and_mouth_of_form_a() -> None:
    for row in pub.RADIUS_CENTRE_HOLES:
        assert row.mouth == pub.centre_hole(row.pilot).mouth
        assert row.depth in (None, pub.centre_hole(row.pilot).depth)


def test_knob_threads_are_in_the_thread_table() -> None:
    for row in pub.BALL_KNOBS:
        assert pub.thread(row.thread).diameter < row.flat


@pytest.mark.parametrize("name", ["M8", "m8", " M8 "])
def test_a_thread_by_name(name: str) -> None:
    assert pub.thread(name).pitch == 1.25


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: pub.morse_taper(7), "given: 7; allowed: 0, 1, 2, 3, 4, 5, 6"),
        (lambda: pub.ball_knob(22), "12, 16, 20, 25, 32, 40, 50"),
        (lambda: pub.thread("M7"), "given: 'M7'"),
        (lambda: pub.centre_hole(3), "given: 3"),
        (lambda: pub.radius_centre_hole(math.nan), "no such size"),
        (lambda: pub.undercut(0), "more than 0"),
        (lambda: pub.undercut(18, fatigue=True), "more than 18"),
    ],
)
def test_what_the_tables_lack_is_refused(call: object, says: str) -> None:
    with pytest.raises(FaultsFound, match=says):
        call()  # type: ignore[operator]
