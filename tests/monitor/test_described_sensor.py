"""What a sensor says of its own values is held against the adapter that is to read them."""

from sound_oximeter import ADAPTER, OXIMETER

from livemon.decode.presentation_format import PRESENTATION_FORMAT
from livemon.events import Event, Head, Notification, SensorAdded
from livemon.monitor.session import Session

#: Assigned Numbers: uint8 (0x04) and uint16 (0x06), exponent 0, per cent (0x27AD).
AS_UINT8, AS_UINT16 = bytes.fromhex("0400AD27010000"), bytes.fromhex("0600AD27010000")
FINDING = "smo2: format is uint16, the sensor says uint8"


def described(payload: bytes) -> Notification:
    return Notification(1, "ox", PRESENTATION_FORMAT, payload)


def differences(*events: Event) -> tuple[tuple[str, str, str], ...]:
    session = Session(Head("2026-11-25T10:00:00+00:00", "s"))
    for event in (SensorAdded(0, OXIMETER, ADAPTER), *events):
        session.feed(event)
    return session.differences


def test_a_description_that_contradicts_the_adapter_is_told_with_the_sensors_name() -> None:
    assert differences(described(AS_UINT8)) == (("ox", "invented", FINDING),)


def test_one_that_agrees_takes_back_what_was_found_before() -> None:
    assert differences(described(AS_UINT16)) == ()
    assert differences(described(AS_UINT8), described(AS_UINT16)) == ()


def test_another_adapter_is_held_against_the_old_description() -> None:
    """uint8 from the second on: nothing is left to differ."""
    other = ADAPTER.replace("uint16", "uint8")

    assert differences(described(AS_UINT8), SensorAdded(2, OXIMETER, other)) == ()
    assert differences(described(AS_UINT16), SensorAdded(2, OXIMETER, other)) == (
        ("ox", "invented", "smo2: format is uint8, the sensor says uint16"),
    )
