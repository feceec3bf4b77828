"""Every field of a payload is shown, with the reason where its value is not known."""

import pytest

from livemon.decode.adapter import parse_adapter
from livemon.decode.explain import FieldReading
from livemon.decode.shipped import shipped_adapters

SHIPPED = shipped_adapters()
PLAIN = parse_adapter(SHIPPED["invented-plain"], where="plain")
RICH = parse_adapter(SHIPPED["invented-rich"], where="rich")


def test_shows_octets_raw_number_value_and_unit() -> None:
    assert PLAIN.explain(bytes.fromhex("7A 02 C4 04")) == (
        FieldReading("smo2", 0, b"\x7a\x02", 634, 63.4, "%", ""),
        FieldReading("thb", 2, b"\xc4\x04", 1220, 12.2, "g/dL", ""),
    )


@pytest.mark.parametrize(
    ("payload", "key", "why"),
    [
        ("FF FF C4 04", "smo2", "this raw number means not known"),
        ("E9 03 C4 04", "smo2", "outside the valid range, 0 to 100 %"),
        ("7A 02 C4", "thb", "the packet has 3 octets, this field needs 4"),
    ],
)
def test_plain_says_why_not(payload: str, key: str, why: str) -> None:
    readings = {one.key: one for one in PLAIN.explain(bytes.fromhex(payload))}

    assert (readings[key].value, readings[key].why) == (None, why)


@pytest.mark.parametrize(
    ("payload", "key", "why"),
    [
        ("00 8C 00 30 00 00 F2 7A F2 66 C8", "smo2.upper", "not known: octet 0 bit 2 is 0"),
        ("04 8C 00 30 00 00 07 FF F2 66 C8", "smo2.upper", "the sensor sent no number"),
        ("00 8C 00 30 00 00 F2 7A F2 66 C8", "battery", "not sent: octet 0 bit 0 is 0"),
        ("", "battery", "the packet ends before its presence bit"),
        ("", "smo2.upper", "the packet has 0 octets, this field needs 8"),
    ],
)
def test_rich_says_why_not(payload: str, key: str, why: str) -> None:
    readings = {one.key: one for one in RICH.explain(bytes.fromhex(payload))}

    assert (readings[key].value, readings[key].why) == (None, why)
