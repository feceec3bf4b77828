"""SFLOAT and FLOAT, against worked examples published elsewhere.

T3  a public test file of another decoder; PHD  the Personal Health Devices Transcoding White
Paper; own  worked out by hand: mantissa × 10^exponent, both in two's complement.
"""

from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from livemon.decode.medfloat import decode_float, decode_sfloat, encode_float, encode_sfloat

SFLOAT = [
    pytest.param("72 00", 114.0, id="PHD 0x0072"),
    pytest.param("6C F1", 36.4, id="PHD 0xF16C"),
    pytest.param("FF 0F", -1.0, id="T3 0x0FFF"),
    pytest.param("05 20", 500.0, id="T3 0x2005"),
    pytest.param("62 00", 98.0, id="own 0x0062"),
    pytest.param("48 00", 72.0, id="own 0x0048"),
    pytest.param("D4 F3", 98.0, id="own 0xF3D4"),
    pytest.param("7D F0", 12.5, id="own 0xF07D"),
    pytest.param("23 E1", 2.91, id="own 0xE123"),
    pytest.param("FD 07", 2045.0, id="own largest mantissa"),
    pytest.param("03 08", -2045.0, id="own smallest mantissa"),
    pytest.param("FF F7", 204.7, id="own NaN's mantissa with an exponent is a number"),
    pytest.param("FE 07", None, id="+infinity"),
    pytest.param("FF 07", None, id="NaN"),
    pytest.param("00 08", None, id="not at this resolution"),
    pytest.param("01 08", None, id="reserved"),
    pytest.param("02 08", None, id="-infinity"),
]
FLOAT = [
    pytest.param("6C 01 00 FF", 36.4, id="PHD 0xFF00016C"),
    pytest.param("FF FF FF 00", -1.0, id="T3 0x00FFFFFF"),
    pytest.param("97 0D 00 FE", 34.79, id="own 0xFE000D97"),
    pytest.param("72 01 00 FF", 37.0, id="own 0xFF000172"),
    pytest.param("8E FE FF FF", -37.0, id="own 0xFFFFFE8E"),
    pytest.param("FE FF 7F 00", None, id="+infinity"),
    pytest.param("FF FF 7F 00", None, id="NaN"),
    pytest.param("00 00 80 00", None, id="not at this resolution"),
    pytest.param("01 00 80 00", None, id="reserved"),
    pytest.param("02 00 80 00", None, id="-infinity"),
]


@pytest.mark.parametrize(("wire", "expected"), SFLOAT)
def test_sfloat(wire: str, expected: float | None) -> None:
    assert decode_sfloat(int.from_bytes(bytes.fromhex(wire), "little")) == expected


@pytest.mark.parametrize(("wire", "expected"), FLOAT)
def test_float(wire: str, expected: float | None) -> None:
    assert decode_float(int.from_bytes(bytes.fromhex(wire), "little")) == expected


def test_every_sfloat_word_is_its_exact_decimal_rounded_once() -> None:
    """All 65536 words, against whole-number fractions written another way."""
    for word in range(1 << 16):
        mantissa, exponent = word & 0xFFF, word >> 12
        mantissa -= 4096 * (mantissa >= 2048)
        exponent -= 16 * (exponent >= 8)
        decoded = decode_sfloat(word)
        if decoded is None:
            assert word in {0x07FE, 0x07FF, 0x0800, 0x0801, 0x0802}
        else:
            assert decoded == float(mantissa * Fraction(10) ** exponent)


@example(2045.0)
@example(2045.5)
@example(-2045.0)
@example(20.45e8)
@example(0.0)
@given(st.floats(-2045e7, 2045e7))
def test_sfloat_encodes_to_three_digits(value: float) -> None:
    word = encode_sfloat(value)

    assert word is not None
    decoded = decode_sfloat(word)
    assert decoded is not None
    # At least 204 of 2045 mantissas are in use, or the finest exponent, 1e-8, is reached.
    assert abs(decoded - value) <= max(abs(value) / 204 / 2, 0.5e-8) * (1 + 1e-12)


@given(st.floats(-1e100, 1e100))
def test_float_encodes_to_six_digits(value: float) -> None:
    word = encode_float(value)

    assert word is not None
    assert decode_float(word) == pytest.approx(value, rel=1e-6, abs=1e-120)


@pytest.mark.parametrize("value", [2046e7, -2046e7, 1e300])
def test_what_is_too_large_has_no_word(value: float) -> None:
    assert encode_sfloat(value) is None


def test_float_too_large_has_no_word() -> None:
    assert encode_float(1e150) is None


@pytest.mark.parametrize(
    ("word", "value"),
    [(0x007F_FFFD, 8_388_605.0), (0x0080_0003, -8_388_605.0), (0x0100_0001, 10.0)],
)
def test_the_words_beside_the_special_ones_are_numbers(word: int, value: float) -> None:
    assert decode_float(word) == value


def test_float_takes_another_exponent_before_it_uses_a_special_word() -> None:
    """2^23 - 2 stands for infinity; the largest mantissa is one less."""
    assert encode_float(8_388_605.0) == 0x007F_FFFD
    assert decode_float(encode_float(8_388_606.0) or 0) == 8_388_610.0


def test_float_ends_where_its_exponents_end() -> None:
    """From 1e-128 to 8388605e127."""
    assert encode_float(1e-128) == 0x8000_0001
    assert encode_float(1e-125) == 0x8000_03E8
    assert encode_float(8.388605e133) == 0x7F7F_FFFD
    assert encode_float(8.4e133) is None
