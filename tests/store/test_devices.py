"""Paired devices: known by a secret of which a digest alone is kept, allowed more, struck off."""

import pytest

from ovolo.store import NotKept, Store


def test_a_device_is_known_by_its_secret(store: Store) -> None:
    device, secret = store.devices.pair("Phone", "192.0.2.7")
    other, another = store.devices.pair("Tablet", "192.0.2.8")
    assert secret != another
    assert store.devices.known(secret, "192.0.2.7") == device
    assert store.devices.known("guessed", "192.0.2.7") is None
    assert {each.id for each in store.devices.listed()} == {device.id, other.id}


def test_where_it_was_last_seen_is_kept(store: Store) -> None:
    _, secret = store.devices.pair("Phone", "192.0.2.7")
    store.devices.known(secret, "192.0.2.9")
    assert store.devices.listed()[0].place == "192.0.2.9"


def test_it_is_allowed_more_and_struck_off(store: Store) -> None:
    device, secret = store.devices.pair("Phone", "192.0.2.7")
    assert not device.everything
    store.devices.allow(device.id, everything=True)
    known = store.devices.known(secret, "192.0.2.7")
    assert known is not None
    assert known.everything
    store.devices.strike_off(device.id)
    assert store.devices.known(secret, "192.0.2.7") is None
    for change in (store.devices.strike_off, lambda name: store.devices.allow(name, everything=True)):
        with pytest.raises(NotKept):
            change(device.id)
