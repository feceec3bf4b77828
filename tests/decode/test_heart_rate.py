"""Heart rate decoding, against the specification's field table and an independent encoder.

Sources of the byte strings:
T1  tests of github.com/RonanB96/bluetooth-sig-python
T2  SmartGattLib, HeartRateMeasurementTest.java
T3  a test file published with another open-source decoder
own worked out by hand from the field table of the Heart Rate Service 1.0
"""

import pytest
from bumble.profiles.heart_rate_service import HeartRateService
from hypothesis import example, given
from hypothesis import strategies as st

from livemon.decode.heart_rate import decode_heart_rate
from livemon.decode.samples import HeartRateSample
from livemon.errors import DecodeError


def sample(
    bpm: int | None,
    rr_ticks: tuple[int, ...] = (),
    *,
    contact: bool | None = None,
    energy_kj: int | None = None,
    spare_octets: int = 0,
) -> HeartRateSample:
    """Expected sample, RR intervals in the wire's 1/1024 s."""
    rr_s = tuple(ticks / 1024 for ticks in rr_ticks)
    return HeartRateSample(7.5, bpm, contact, rr_s, energy_kj, spare_octets)


VECTORS = [
    pytest.param("00 50", sample(80), id="T1 8-bit rate, contact not supported"),
    pytest.param("01 C8 00", sample(200), id="T1 16-bit rate"),
    pytest.param("04 50", sample(None, contact=False), id="T1 supported, no contact: no rate"),
    pytest.param("02 50", sample(80), id="T1 detected bit alone means nothing"),
    pytest.param("0E 4B 80 00", sample(75, contact=True, energy_kj=128), id="T1 energy"),
    pytest.param("10 5A 00 08 00 10", sample(90, (2048, 4096)), id="T1 RR of 2 s and 4 s"),
    pytest.param("16 48 54 01 EC 02", sample(72, (340, 748), contact=True), id="T2 two RR"),
    pytest.param("16 3C 00 04 00 02", sample(60, (1024, 512), contact=True), id="T3 two RR"),
    pytest.param("19 2C 01 0A 00 00 01", sample(300, (256,), energy_kj=10), id="T3 all fields"),
    pytest.param("16 48 20 03 00 04", sample(72, (800, 1024), contact=True), id="own two RR"),
    pytest.param(
        "1E A0 FF FF 5B 01 59 01 58 01",
        sample(160, (347, 345, 344), contact=True, energy_kj=65535),
        id="own energy at its ceiling",
    ),
    pytest.param("E0 48", sample(72), id="own reserved bits ignored"),
    pytest.param("F6 48 20 03", sample(72, (800,), contact=True), id="own reserved bits and RR"),
    pytest.param("10 3C 00 04 FF", sample(60, (1024,), spare_octets=1), id="own odd last octet"),
    pytest.param("11 48 00 20 03", sample(72, (800,)), id="own 16-bit rate and RR"),
    pytest.param("10 78" + " 00 02" * 9, sample(120, (512,) * 9), id="own nine RR fill 20 octets"),
    pytest.param(
        "18 78 01 00" + " 00 02" * 8, sample(120, (512,) * 8, energy_kj=1), id="own eight RR"
    ),
    pytest.param("10 3C", sample(60), id="own RR announced, none sent"),
    pytest.param("10 3C 00 00 00 04", sample(60, (1024,)), id="own no beat is 0 s after another"),
    pytest.param("00 3C 01 02", sample(60, spare_octets=2), id="own octets nobody announced"),
    pytest.param("00 00", sample(None), id="own rate 0 is no rate"),
    pytest.param("01 00 00", sample(None), id="own 16-bit rate 0 is no rate"),
    pytest.param("06 00", sample(None, contact=True), id="own rate 0 in spite of contact"),
]


@pytest.mark.parametrize(("payload", "expected"), VECTORS)
def test_decodes(payload: str, expected: HeartRateSample) -> None:
    assert decode_heart_rate(bytes.fromhex(payload), 7.5) == expected


def test_rr_is_in_seconds_not_milliseconds() -> None:
    """SmartGattLib expects 0.33203125 s and 0.73046875 s of this packet."""
    decoded = decode_heart_rate(bytes.fromhex("16 48 54 01 EC 02"), 0.0)

    assert decoded.rr_s == (0.33203125, 0.73046875)


@pytest.mark.parametrize("contact", [None, False, True])
@pytest.mark.parametrize("rr_s", [(), (0.5,), (0.75, 1.25, 63.9990234375)])
@pytest.mark.parametrize("energy_kj", [None, 0, 65535])
@pytest.mark.parametrize("bpm", [1, 255, 256, 65535])
def test_agrees_with_bumble(
    bpm: int, energy_kj: int | None, rr_s: tuple[float, ...], contact: bool | None
) -> None:
    """Google's Bumble encodes it; we must read back what it was given."""
    encoded = bytes(HeartRateService.HeartRateMeasurement(bpm, contact, energy_kj, rr_s))

    expected = HeartRateSample(1.0, None if contact is False else bpm, contact, rr_s, energy_kj)
    assert decode_heart_rate(encoded, 1.0) == expected


@pytest.mark.parametrize(
    ("payload", "missing"),
    [
        ("", "flags"),
        ("00", "heart rate"),
        ("01 3C", "heart rate"),  # T3 rejects this one too
        ("08 3C", "energy expended"),
        ("08 3C 01", "energy expended"),
        ("09 3C 00 01", "energy expended"),
    ],
)
def test_rejects_whole_and_names_the_field_that_is_cut_off(payload: str, missing: str) -> None:
    with pytest.raises(DecodeError) as caught:
        decode_heart_rate(bytes.fromhex(payload), 0.0)

    assert caught.value.problem == f"ends before {missing}"
    assert caught.value.payload == bytes.fromhex(payload)


@pytest.mark.parametrize(
    ("att_mtu", "rate_octets", "energy_octets", "most"),
    [(23, 1, 0, 9), (23, 1, 2, 8), (23, 2, 0, 8), (23, 2, 2, 7), (185, 1, 0, 90), (247, 2, 2, 119)],
)
def test_reads_as_many_rr_as_the_packet_holds(
    att_mtu: int, rate_octets: int, energy_octets: int, most: int
) -> None:
    """The counts are the service's own: HRS 1.0, note on the maximum number of RR-Intervals."""
    flags = 0x10 | (rate_octets - 1) | (0x08 if energy_octets else 0)
    fixed = bytes([flags]) + b"\x3c\x00"[:rate_octets] + bytes(energy_octets)
    payload = (fixed + b"\x20\x03" * 130)[: att_mtu - 3]

    assert len(decode_heart_rate(payload, 0.0).rr_s) == most


@example(b"")
@example(bytes([0xFF]) * 512)
@given(st.binary(max_size=64))
def test_any_bytes_give_a_sample_or_a_rejection(payload: bytes) -> None:
    try:
        decoded = decode_heart_rate(payload, 0.0)
    except DecodeError:
        return

    assert decoded.bpm is None or 0 < decoded.bpm <= 65535
    assert all(0 < rr < 64 for rr in decoded.rr_s)
