"""How make-believe sensors are described."""

from dataclasses import replace

import pytest

pytest.importorskip("dbus_fast", reason="comes with bleak on Linux only")

from bluez_fixtures import HEART_RATE, OXI, STRAP

from livemon.link.fake_bluez.description import Characteristic, Peripheral, Service
from livemon.link.fake_bluez.objects import gatt_objects

DEVICE = "/org/bluez/hci0/dev_C0_00_00_00_00_01"


def test_handles_count_through_services_characteristics_and_descriptors() -> None:
    """A characteristic takes two handles, declaration and value (Core 5.4, Vol 3, Part G, 3.3)."""
    paths = list(gatt_objects(DEVICE, STRAP, {}))

    assert [path.removeprefix(DEVICE) for path in paths] == [
        "/service0001",
        "/service0001/char0002",
        "/service0001/char0002/desc0004",
        "/service0005",
        "/service0005/char0006",
        "/service0005/char0006/desc0008",
    ]


@pytest.mark.parametrize(
    "describe",
    [
        pytest.param(lambda: Characteristic("2a37", ("notify",)), id="16-bit UUID"),
        pytest.param(lambda: Service(HEART_RATE.upper(), ()), id="UUID in upper case"),
        pytest.param(lambda: Peripheral("c0:00:00:00:00:01", "x", ()), id="address in lower case"),
    ],
)
def test_descriptions_that_no_client_would_recognise_are_refused(describe) -> None:
    with pytest.raises(ValueError, match="expected"):
        describe()


def test_a_sensor_advertises_its_services_unless_told_otherwise() -> None:
    assert OXI.advertised == (OXI.services[0].uuid,)
    assert replace(OXI, advertises=()).advertised == ()
