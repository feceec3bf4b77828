"""Where each quantity sits in an oximeter's packet: plain facts, no bytes read here."""

from dataclasses import dataclass
from enum import Enum
from typing import Final

from livemon.decode.formats import Word
from livemon.decode.scale import Scale

#: An attribute value has at most this many octets (Core Specification, Vol 3 Part F, 3.2.9).
LONGEST_VALUE: Final = 512


class Quantity(Enum):
    """What a field can be; the names are those of the adapter file."""

    SMO2 = "smo2"  #: muscle oxygen saturation
    THB = "thb"  #: total haemoglobin
    O2HB = "o2hb"  #: oxygenated haemoglobin
    HHB = "hhb"  #: deoxygenated haemoglobin
    CONTACT = "contact"  #: the probe lies on skin
    QUALITY = "quality"  #: the device's own trust in its reading
    SEQUENCE = "sequence"  #: packet counter
    DEVICE_TIME = "device_time"  #: the device's own clock
    BATTERY = "battery"  #: its charge


#: These belong to one channel; the others may speak for the whole packet.
OF_ONE_CHANNEL: Final = frozenset({Quantity.SMO2, Quantity.THB, Quantity.O2HB, Quantity.HHB})

#: These are told as they are, without scale, unit or range.
UNSCALED: Final = frozenset({Quantity.CONTACT, Quantity.SEQUENCE})


@dataclass(frozen=True, slots=True)
class Condition:
    """One bit of the packet, and what it has to be.

    Attributes:
        offset: octet, from the start of the payload.
        bit: 0 is the least significant of that octet.
        is_set: the condition holds when the bit is 1 (True) or when it is 0 (False).
    """

    offset: int
    bit: int
    is_set: bool

    @property
    def place(self) -> tuple[int, int]:
        """Octet and bit."""
        return self.offset, self.bit

    def holds(self, payload: bytes) -> bool:
        """Look it up in a payload that is long enough."""
        return bool(payload[self.offset] >> self.bit & 1) is self.is_set


@dataclass(frozen=True, slots=True)
class Field:
    """One quantity and how it is written.

    Attributes:
        key: quantity, followed by the channel where there are several: "smo2.upper".
        channel: index of the channel; None speaks for the whole packet.
        offset: first octet; None follows directly on the field before it.
        low: smallest value that is believed, in `unit`.
        high: largest value that is believed.
        not_known: raw numbers that stand for "no reading".
        present_if: without it the field is not in the packet at all.
        known_if: without it the field is there, but holds no reading.
        modulo: a counter or clock starts again at 0 after this many raw steps.
        means_contact: raw numbers that mean skin contact; empty: any but 0.
        shares: may share bits with other fields.
    """

    key: str
    quantity: Quantity
    channel: int | None
    offset: int | None
    word: Word
    scale: Scale
    unit: str
    low: float
    high: float
    not_known: tuple[float, ...]
    present_if: Condition | None
    known_if: Condition | None
    modulo: int | None
    means_contact: tuple[int, ...]
    shares: bool


@dataclass(frozen=True, slots=True)
class Layout:
    """A whole packet.

    Attributes:
        channels: their names, in the order in which muscle sites are given.
        min_len: a shorter payload is rejected.
    """

    channels: tuple[str, ...]
    fields: tuple[Field, ...]
    min_len: int
