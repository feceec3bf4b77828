"""Every standard decoder takes any bytes: samples or a typed rejection, nothing else."""

from collections.abc import Iterator
from itertools import product
from math import isfinite

import pytest
from hypothesis import given
from hypothesis import strategies as st

from livemon.decode.dispatch import Decoders
from livemon.decode.samples import IntensitySample
from livemon.decode.standard import STANDARD, Sample
from livemon.decode.uuids import sig_uuid
from livemon.errors import DecodeError
from livemon.events import Notification

#: By characteristic: the section of the GATT Specification Supplement that lays the packet out (the
#: descriptor stands in the Core Specification), and a packet that has all its fields or nearly so.
GOLDEN = {
    0x2A37: ("Heart Rate Measurement", "1E A0 FF FF 5B 01 59 01 58 01"),
    0x2A19: ("Battery Level", "64"),
    0x2904: ("Core 5.4, Vol 3 Part G, 3.3.3.5", "06 FF AD 27 01 0D 01"),
    0x2A5E: (
        "PLX Spot-Check Measurement",
        "0F 5F 00 3C 00 EA 07 0B 19 08 1E 00 80 00 00 00 00 0C F0",
    ),
    0x2A5F: (
        "PLX Continuous Measurement",
        "1F 62 00 48 00 61 00 4B 00 63 00 47 00 80 00 20 00 00 0C F0",
    ),
    0x2A53: ("RSC Measurement", "07 80 03 B2 6E 00 10 27 00 00"),
    0x2A5B: ("CSC Measurement", "03 39 30 00 00 00 08 90 01 00 04"),
    0x2A63: (
        "Cycling Power Measurement",
        "31 08 94 01 6E 39 30 00 00 00 10 90 01 00 08 15 00",
    ),
    0x2ACD: ("Treadmill Data", "02 01 E2 04 B0 04 9B"),
    0x2ACE: (
        "Cross Trainer Data",
        "1C 05 00 E8 03 B8 0B 00 78 00 73 00 F4 01 C8 00 2C 01 90 01 07",
    ),
    0x2AD1: (
        "Rower Data",
        "7E 19 00 27 00 D6 9C 00 00 00 00 61 00 00 00 E4 00 0D 00 00 00 00 24 00 00 00",
    ),
    0x2AD2: ("Indoor Bike Data", "44 02 9C 09 5C 00 4F 00 50"),
}
#: It describes values and is none.
NO_SAMPLE = {0x2904}
each_golden = pytest.mark.parametrize(
    ("number", "golden"),
    [
        pytest.param(number, bytes.fromhex(octets), id=section)
        for number, (section, octets) in GOLDEN.items()
    ],
)


def decode(characteristic: str, *payloads: bytes) -> Iterator[Sample]:
    """Decode notifications one second apart; a rejection gives nothing."""
    decoders = Decoders([], ())
    for second, payload in enumerate(payloads):
        try:
            yield from decoders.decode(
                Notification(second * 10**9, "sensor", characteristic, payload)
            )
        except DecodeError:
            continue


def sound(sample: Sample) -> bool:
    """No number is NaN or infinite, and none is negative that can't be."""
    numbers = [getattr(sample, name) for name in sample.__slots__]
    if not all(isfinite(number) for number in numbers if type(number) in {int, float}):
        return False
    if not isinstance(sample, IntensitySample):
        return True
    told = (sample.speed_m_per_s, sample.cadence_per_min, sample.distance_m)
    return all(number is None or number >= 0 for number in told)


def test_there_is_a_golden_packet_for_each() -> None:
    assert {sig_uuid(number) for number in GOLDEN} == set(STANDARD)


@each_golden
def test_a_golden_packet_gives_a_sample(number: int, golden: bytes) -> None:
    assert len(list(decode(sig_uuid(number), golden))) == (number not in NO_SAMPLE)


@each_golden
def test_every_prefix_and_every_bit_flip_is_read_or_rejected(number: int, golden: bytes) -> None:
    prefixes = [golden[:size] for size in range(len(golden))]
    flipped = []
    for at, bit in product(range(len(golden)), range(8)):
        changed = bytearray(golden)
        changed[at] ^= 1 << bit
        flipped.append(bytes(changed))

    assert all(sound(sample) for sample in decode(sig_uuid(number), *prefixes, *flipped))


@pytest.mark.parametrize("number", GOLDEN, ids=hex)
@given(payloads=st.lists(st.binary(max_size=40), max_size=6))
def test_any_bytes_are_read_or_rejected(number: int, payloads: list[bytes]) -> None:
    assert all(sound(sample) for sample in decode(sig_uuid(number), *payloads))
