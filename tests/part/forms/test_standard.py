"""Published shapes drawn: what their tables say comes out of the drawing."""

import math

import pytest

from ovolo.errors import FaultsFound
from ovolo.geometry.segments import Arc
from ovolo.part import published
from ovolo.part.forms import Chain, ball_knob, centre_hole_r, cylinder, face, morse_taper, standard_undercut


@pytest.mark.parametrize("row", published.MORSE_TAPERS, ids=lambda row: f"No. {row.number}")
def test_a_morse_taper_has_the_half_angle_of_its_taper_per_foot(row: published.MorseTaper) -> None:
    (line,) = morse_taper(Chain(), number=row.number).segments
    t = line.tangent(0)
    assert math.atan2(t.y, -t.x) == pytest.approx(row.half_angle, abs=1e-6)
    assert line.end == pytest.approx((-row.plug, row.gauge / 2))


@pytest.mark.parametrize("row", published.BALL_KNOBS, ids=lambda row: f"{row.ball} mm")
def test_a_ball_knob_is_a_true_ball_as_high_as_din_319_has_it(row: published.BallKnob) -> None:
    (arc,) = ball_knob(Chain(), diameter=row.ball).segments
    assert isinstance(arc, Arc)
    assert arc.radius == pytest.approx(row.ball / 2)
    assert arc.end.x == pytest.approx(-row.height)
    assert 2 * arc.end.y == pytest.approx(row.flat, abs=1)


@pytest.mark.parametrize("row", published.RADIUS_CENTRE_HOLES, ids=lambda row: f"{row.pilot} mm")
def test_a_centre_hole_has_its_mouth_its_pilot_and_a_radius_between_the_limits(row: published.RadiusCentreHole) -> None:
    seat, pilot = centre_hole_r(Chain(surface="bore"), pilot=row.pilot).segments
    assert isinstance(seat, Arc)
    assert not seat.ccw
    assert row.radius_least <= seat.radius <= row.radius_most
    assert 2 * seat.start.y == pytest.approx(row.mouth)
    assert 2 * pilot.end.y == pytest.approx(row.pilot)
    # Half-way along, the seat runs as the flank of a 60° centre.
    t = seat.tangent(seat.length / 2)
    assert math.degrees(math.atan2(-t.y, -t.x)) == pytest.approx(30)


def test_a_size_that_is_in_no_table_is_refused_with_those_that_are() -> None:
    with pytest.raises(FaultsFound, match="12, 16, 20, 25, 32, 40, 50"):
        ball_knob(Chain(), diameter=21)
    with pytest.raises(FaultsFound):
        morse_taper(Chain(), number=7)
    with pytest.raises(FaultsFound, match="starts a bore"):
        centre_hole_r(Chain(), pilot=2.5)


def test_an_undercut_takes_its_sizes_from_the_shaft() -> None:
    chain = standard_undercut(cylinder(Chain(), diameter=20, length=30), kind="E")
    assert min(s.end.y for s in face(chain, diameter=30).segments) == pytest.approx(9.7)
    heavy = standard_undercut(cylinder(Chain(), diameter=20, length=30), kind="E", load="fatigue")
    assert min(s.end.y for s in face(heavy, diameter=30).segments) == pytest.approx(9.8)


def test_an_undercut_half_given_is_refused() -> None:
    shaft = cylinder(Chain(), diameter=12, length=30)
    with pytest.raises(FaultsFound, match="this one"):
        standard_undercut(shaft, kind="E", radius=0.6)
    with pytest.raises(FaultsFound, match="sizes are given too"):
        standard_undercut(shaft, kind="E", radius=0.6, depth=0.2, width=2, load="normal")
    with pytest.raises(FaultsFound, match="no undercut for this diameter"):
        standard_undercut(shaft, kind="E", load="fatigue")
    with pytest.raises(FaultsFound, match="no shaft yet"):
        standard_undercut(Chain(), kind="E")
