"""How one value is written in octets: the format types of the Bluetooth SIG.

Source: Bluetooth SIG, Assigned Numbers, "Characteristic Presentation Format: Format Types"; the
names are the SIG's. Formats that are not one number (text, structures) are left out.
"""

import struct
from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum
from typing import Final


class Kind(Enum):
    """What the bits of a format mean."""

    UNSIGNED = "unsigned"
    SIGNED = "signed"  #: two's complement
    FLOAT = "float"  #: IEEE 754
    MEDFLOAT = "medfloat"  #: IEEE 11073, see `livemon.decode.medfloat`


@dataclass(frozen=True, slots=True)
class Format:
    """One format type.

    Attributes:
        code: the SIG's number for it.
        bits: those that count, from the least significant; the others are ignored.
        octets: how much room it takes.
    """

    name: str
    code: int
    kind: Kind
    bits: int

    @property
    def octets(self) -> int:
        """Room it takes; 12-bit formats take two octets, shorter ones a whole octet."""
        return (self.bits + 7) // 8


_UNSIGNED: Final = {
    "boolean": (0x01, 1),
    "uint2": (0x02, 2),
    "uint4": (0x03, 4),
    "uint8": (0x04, 8),
    "uint12": (0x05, 12),
    "uint16": (0x06, 16),
    "uint24": (0x07, 24),
    "uint32": (0x08, 32),
    "uint48": (0x09, 48),
    "uint64": (0x0A, 64),
    "uint128": (0x0B, 128),
}
_SIGNED: Final = {
    "sint8": (0x0C, 8),
    "sint12": (0x0D, 12),
    "sint16": (0x0E, 16),
    "sint24": (0x0F, 24),
    "sint32": (0x10, 32),
    "sint48": (0x11, 48),
    "sint64": (0x12, 64),
    "sint128": (0x13, 128),
}
_FLOAT: Final = {"float32": (0x14, 32), "float64": (0x15, 64)}
_MEDFLOAT: Final = {"medfloat16": (0x16, 16), "medfloat32": (0x17, 32)}

#: Format types by name.
FORMATS: Final = {
    name: Format(name, code, kind, bits)
    for kind, rows in (
        (Kind.UNSIGNED, _UNSIGNED),
        (Kind.SIGNED, _SIGNED),
        (Kind.FLOAT, _FLOAT),
        (Kind.MEDFLOAT, _MEDFLOAT),
    )
    for name, (code, bits) in rows.items()
}

# What the struct module can read in one go; the code of a medfloat is that of its whole word.
_STRUCT_CODES: Final = {
    "uint8": "B",
    "uint16": "H",
    "uint32": "I",
    "uint64": "Q",
    "sint8": "b",
    "sint16": "h",
    "sint32": "i",
    "sint64": "q",
    "float32": "f",
    "float64": "d",
    "medfloat16": "H",
    "medfloat32": "I",
}


@dataclass(frozen=True, slots=True)
class Word:
    """Some bits of a format, in one byte order.

    Attributes:
        first_bit: lowest bit that counts, from the least significant of the whole format.
        bits: how many count from there on.
    """

    format: Format
    little: bool
    first_bit: int
    bits: int

    @property
    def whole(self) -> bool:
        """All octets count, to the last bit."""
        return self.bits == 8 * self.format.octets

    @property
    def lowest(self) -> int:
        """Smallest whole number it can hold."""
        return -(1 << self.bits - 1) if self.format.kind is Kind.SIGNED else 0

    @property
    def highest(self) -> int:
        """Largest whole number it can hold."""
        return (1 << self.bits - (self.format.kind is Kind.SIGNED)) - 1


Read = Callable[[bytes], float]


def reader(word: Word, offset: int) -> Read:
    """Return a function that reads `word` at `offset` off a payload that is long enough.

    It gives a whole number for every kind but FLOAT.
    """
    code = _STRUCT_CODES.get(word.format.name)
    if word.whole and code is not None:
        unpack = struct.Struct(("<" if word.little else ">") + code).unpack_from
        return lambda payload: unpack(payload, offset)[0]

    end = offset + word.format.octets
    order: Final = "little" if word.little else "big"
    mask = (1 << word.bits) - 1
    shift = word.first_bit
    if word.format.kind is not Kind.SIGNED:
        return lambda payload: int.from_bytes(payload[offset:end], order) >> shift & mask
    sign = 1 << word.bits - 1
    return lambda payload: (
        (int.from_bytes(payload[offset:end], order) >> shift & mask ^ sign) - sign
    )


def write(word: Word, offset: int, raw: float, into: bytearray) -> None:
    """Put `raw`, which must fit, at `offset`; bits beside the word stay as they are."""
    end = offset + word.format.octets
    order: Final = "little" if word.little else "big"
    if word.format.kind is Kind.FLOAT:
        struct.pack_into(
            ("<" if word.little else ">") + _STRUCT_CODES[word.format.name], into, offset, raw
        )
        return
    mask = (1 << word.bits) - 1
    beside = int.from_bytes(into[offset:end], order) & ~(mask << word.first_bit)
    filled = beside | (int(raw) & mask) << word.first_bit
    into[offset:end] = filled.to_bytes(word.format.octets, order)
