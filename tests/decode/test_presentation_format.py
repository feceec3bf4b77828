"""The presentation format descriptor confirms or contradicts an adapter.

T1  tests of github.com/RonanB96/bluetooth-sig-python; own  by hand from the SIG's tables.
"""

import pytest
from sound_adapter import SMO2, THB, TOP

from livemon.decode.adapter import parse_adapter
from livemon.decode.presentation_format import (
    PresentationFormat,
    contradictions,
    decode_presentation_format,
)
from livemon.errors import DecodeError


@pytest.mark.parametrize(
    ("payload", "expected"),
    [
        pytest.param(
            "06 00 2F 27 01 00 00", PresentationFormat("uint16", 0, 0x272F, 1, 0), id="T1 °C"
        ),
        pytest.param(
            "06 00 2F 27 01 0D 01", PresentationFormat("uint16", 0, 0x272F, 1, 0x10D), id="T1 left"
        ),
        pytest.param(
            "04 00 AD 27 01 00 00", PresentationFormat("uint8", 0, 0x27AD, 1, 0), id="own %"
        ),
        pytest.param(
            "0E FF AD 27 01 01 00", PresentationFormat("sint16", -1, 0x27AD, 1, 1), id="own 0.1 %"
        ),
        pytest.param(
            "1B 00 00 27 01 00 00", PresentationFormat(None, 0, 0x2700, 1, 0), id="own structure"
        ),
    ],
)
def test_decodes(payload: str, expected: PresentationFormat) -> None:
    assert decode_presentation_format(bytes.fromhex(payload)) == expected


@pytest.mark.parametrize("size", range(7))
def test_every_prefix_is_rejected(size: int) -> None:
    with pytest.raises(DecodeError, match="ends before"):
        decode_presentation_format(bytes(size))


def said(payload: str, scale: str = "{ d = -1 }") -> tuple[str, ...]:
    adapter = parse_adapter(TOP + SMO2 + f"scale = {scale}", where="one number")
    return contradictions(adapter, decode_presentation_format(bytes.fromhex(payload)))


def test_agreement_is_silent_and_so_is_a_number_without_unit() -> None:
    assert said("06 FF AD 27 01 00 00") == ()
    assert said("06 FF 00 27 01 00 00") == ()


@pytest.mark.parametrize(
    ("payload", "finding"),
    [
        ("0E FF AD 27 01 00 00", "smo2: format is uint16, the sensor says sint16"),
        ("06 FE AD 27 01 00 00", "smo2: one raw step is 0.1, the sensor says 0.01"),
        ("06 FF AE 27 01 00 00", "smo2: unit is %, the sensor says unit 0x27AE"),
        ("06 FF 03 27 01 00 00", "smo2: unit is %, the sensor says s"),
        ("06 FF 1A 27 01 00 00", "smo2: unit is %, the sensor says mol/m³"),
        ("06 FF B2 27 01 00 00", "smo2: unit is %, the sensor says mmol/L"),
    ],
)
def test_each_difference_is_told(payload: str, finding: str) -> None:
    assert said(payload) == (finding,)


def test_a_structure_can_not_be_compared() -> None:
    assert said("1B 00 00 27 01 00 00") == ()


def test_a_packet_of_several_numbers_can_not_be_compared() -> None:
    adapter = parse_adapter(TOP + SMO2 + THB, where="two numbers")
    descriptor = decode_presentation_format(bytes.fromhex("04 00 AD 27 01 00 00"))

    assert contradictions(adapter, descriptor) == ()
