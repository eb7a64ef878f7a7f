"""What a device is called; the rest of pairing is in test_network.py, a test for each line of the threat model."""

import pytest

from ovolo.app.devices import device_name


@pytest.mark.parametrize(
    ("agent", "name"),
    [("… iPhone; CPU …", "Phone, iPhone"), ("Linux; Android 14; K", "Tablet, Android"), ("", "Device")],
)
def test_a_device_has_a_name(agent: str, name: str) -> None:
    assert device_name(agent) == name
