"""Instruments and their usual uncertainties."""

from ovolo.shop.instruments import UNNAMED, USUAL, Instrument


def test_every_kind_has_usual_figures() -> None:
    for kind, usual in USUAL.items():
        made = Instrument.usual(kind, "mine")
        assert (made.over, made.u, made.u_z) == (usual.over, usual.u, usual.u_z)


def test_what_is_given_counts() -> None:
    assert Instrument.usual("caliper", "mine", over=0.0, u=0.05).over == 0.0


def test_an_indicator_carried_by_the_slides_cannot_see_what_they_get_wrong() -> None:
    assert not Instrument.usual("indicator", "ball").absolute
    assert UNNAMED.absolute
