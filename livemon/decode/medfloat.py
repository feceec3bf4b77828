"""The two decimal floats of medical devices: SFLOAT in 16 bits, FLOAT in 32.

value = mantissa × 10^exponent, both in two's complement; the exponent is the top 4 (or 8) bits.
Five words stand for no number at all: NaN, "not at this resolution", a reserved one, ±infinity.
Source: ISO/IEEE 11073-20601 and the Bluetooth SIG's Personal Health Devices Transcoding White
Paper. They are called medfloat16 and medfloat32 among the SIG's format types.
"""

from typing import Final

SFLOAT_NAN: Final = 0x07FF
FLOAT_NAN: Final = 0x007F_FFFF

_SFLOAT_SPECIAL: Final = frozenset(range(0x07FE, 0x0803))
_FLOAT_SPECIAL: Final = frozenset(range(0x007F_FFFE, 0x0080_0003))

_SFLOAT_LARGEST: Final = 2045  # the next mantissas are the special words
_FLOAT_LARGEST: Final = 8_388_605
_SFLOAT_EXPONENTS: Final = range(-8, 8)
_FLOAT_EXPONENTS: Final = range(-128, 128)


def decode_sfloat(word: int) -> float | None:
    """Return the value of a 16-bit word; None where it stands for no number."""
    if word in _SFLOAT_SPECIAL:
        return None
    mantissa = (word & 0x0FFF ^ 0x0800) - 0x0800
    return _value(mantissa, (word >> 12 ^ 0x8) - 0x8)


def decode_float(word: int) -> float | None:
    """Return the value of a 32-bit word; None where it stands for no number."""
    if word in _FLOAT_SPECIAL:
        return None
    mantissa = (word & 0xFF_FFFF ^ 0x80_0000) - 0x80_0000
    return _value(mantissa, (word >> 24 ^ 0x80) - 0x80)


def encode_sfloat(value: float) -> int | None:
    """Return the 16-bit word nearest to `value`; None where it is too large for one."""
    split = _split(value, _SFLOAT_LARGEST, _SFLOAT_EXPONENTS)
    return None if split is None else (split[1] & 0xF) << 12 | split[0] & 0x0FFF


def encode_float(value: float) -> int | None:
    """Return the 32-bit word nearest to `value`; None where it is too large for one."""
    split = _split(value, _FLOAT_LARGEST, _FLOAT_EXPONENTS)
    return None if split is None else (split[1] & 0xFF) << 24 | split[0] & 0xFF_FFFF


def _value(mantissa: int, exponent: int) -> float:
    # Whole numbers divided are rounded once and correctly: 364 / 10 is 36.4, 364 * 0.1 is not.
    return float(mantissa * 10**exponent) if exponent >= 0 else mantissa / 10**-exponent


def _split(value: float, largest: int, exponents: range) -> tuple[int, int] | None:
    """Mantissa and exponent with the most digits that fit."""
    for exponent in exponents:
        mantissa = round(value * 10**-exponent) if exponent < 0 else round(value / 10**exponent)
        if abs(mantissa) <= largest:
            return mantissa, exponent
    return None
