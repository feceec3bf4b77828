"""MQTT 3.1.1 packets, as far as the door of a share has to read them. Bytes in, values out.

Section numbers are those of the OASIS standard of 29 October 2014. What amqtt makes of a packet is
not relied on: nothing is passed on to it that was not understood here.
"""

from dataclasses import dataclass
from enum import IntEnum
from typing import Final

from livemon.net.trouble import MessageError

#: 2.2.3: at most four bytes of seven bits each.
_MOST_LENGTH_BYTES: Final = 4
_MQTT_3_1_1: Final = b"\x00\x04MQTT\x04"


class Kind(IntEnum):
    """2.2.1, the control packet types that relays and a hub send; no others are taken."""

    CONNECT = 1
    PUBLISH = 3
    PUBACK = 4
    SUBSCRIBE = 8
    PINGREQ = 12
    DISCONNECT = 14


#: 2.2.2, the flags that go with each; a PUBLISH has flags of its own.
_FLAGS: Final = {
    Kind.CONNECT: 0,
    Kind.PUBACK: 0,
    Kind.SUBSCRIBE: 0b0010,
    Kind.PINGREQ: 0,
    Kind.DISCONNECT: 0,
}
#: Bytes after the length of those that always have the same number. A longer one could carry a
#: packet past the door, because amqtt reads the rest as the next.
_BODY_BYTES: Final = {Kind.PUBACK: 2, Kind.PINGREQ: 0, Kind.DISCONNECT: 0}


class Answer(IntEnum):
    """3.2.2.3, return codes of CONNACK."""

    WELCOME = 0
    OTHER_VERSION = 1
    OTHER_NAME = 2
    LATER = 3
    WRONG_PASSWORD = 4
    NOT_ALLOWED = 5


@dataclass(frozen=True, slots=True)
class Packet:
    """One packet: its kind and flags, what follows the length, and all of its bytes."""

    kind: Kind
    flags: int
    body: bytes
    raw: bytes


@dataclass(frozen=True, slots=True)
class LastWord:
    """3.1.2.5, the will: what the broker publishes when the client is gone without a word."""

    topic: str
    payload: bytes


@dataclass(frozen=True, slots=True)
class Hello:
    """3.1, what a CONNECT says. The client's id is not looked at: a name has one connection."""

    user: str | None
    password: str | None
    keep_alive_s: int
    clean: bool
    will: LastWord | None


class Cursor:
    """Reads fields off the front of a body.

    Everything raises MessageError where the body ends too early, or holds no text where it should.
    """

    __slots__ = ("_at", "_body")

    def __init__(self, body: bytes) -> None:
        self._body = body
        self._at = 0

    @property
    def rest(self) -> bytes:
        """What was not read yet."""
        return self._body[self._at :]

    def take(self, count: int) -> bytes:
        """Return the next bytes."""
        taken = self._body[self._at : self._at + count]
        if len(taken) < count:
            raise MessageError("a packet that ends too early")
        self._at += count
        return taken

    def number(self) -> int:
        """Return the next two bytes (1.5.2)."""
        return int.from_bytes(self.take(2), "big")

    def data(self) -> bytes:
        """Return bytes with their length before them (3.1.3.3)."""
        return self.take(self.number())

    def text(self) -> str:
        """Return a UTF-8 string (1.5.3)."""
        try:
            text = self.data().decode("utf-8")
        except UnicodeDecodeError as error:
            raise MessageError("a packet with text that is not UTF-8") from error
        if "\x00" in text:
            raise MessageError("a packet with a NUL in its text")
        return text


def kind_of(first: int) -> Kind:
    """Return what kind of packet begins with this byte.

    Raises:
        MessageError: one that is not taken, or with the flags of another.
    """
    try:
        kind = Kind(first >> 4)
    except ValueError as error:
        raise MessageError(f"a packet of type {first >> 4}, which relays never send") from error
    flags = first & 0x0F
    if flags != _FLAGS.get(kind, flags):
        raise MessageError(f"a {kind.name} with flags {flags:04b}")
    return kind


def packet_of(first: int, encoded_length: bytes, body: bytes) -> Packet:
    """Return the packet of these parts.

    Raises:
        MessageError: it is of a kind that is not taken, or not as its kind has to be.
    """
    kind = kind_of(first)
    if len(body) != _BODY_BYTES.get(kind, len(body)):
        raise MessageError(f"a {kind.name} of {len(body)} bytes")
    return Packet(kind, first & 0x0F, body, bytes([first]) + encoded_length + body)


def read_hello(body: bytes) -> Hello:
    """Return what the CONNECT with this body says.

    Raises:
        MessageError: it is none of MQTT 3.1.1.
    """
    cursor = Cursor(body)
    if cursor.take(len(_MQTT_3_1_1)) != _MQTT_3_1_1:
        raise MessageError("another version of MQTT")
    flags = cursor.take(1)[0]
    keep_alive_s = cursor.number()
    cursor.text()  # the client's id
    will = LastWord(cursor.text(), cursor.data()) if flags & 0x04 else None
    user = cursor.text() if flags & 0x80 else None
    password = cursor.text() if flags & 0x40 else None
    return Hello(user, password, keep_alive_s, bool(flags & 0x02), will)


def read_publish(packet: Packet) -> tuple[str, bytes]:
    """Return topic and payload of a PUBLISH (3.3).

    Raises:
        MessageError: it is malformed, or of a quality of service that is never used here.
    """
    qos = packet.flags >> 1 & 0x03
    if qos > 1:
        raise MessageError("a message of quality of service 2 or 3")
    cursor = Cursor(packet.body)
    topic = cursor.text()
    if qos:
        cursor.number()
    return topic, cursor.rest


def read_filters(packet: Packet) -> tuple[str, ...]:
    """Return the topic filters of a SUBSCRIBE (3.8).

    Raises:
        MessageError: it is malformed.
    """
    cursor = Cursor(packet.body)
    cursor.number()
    filters = []
    while cursor.rest:
        filters.append(cursor.text())
        if cursor.take(1)[0] > 2:
            raise MessageError("a subscription of no quality of service")
    if not filters:
        raise MessageError("a subscription to nothing")
    return tuple(filters)


def read_length(encoded: bytes) -> int | None:
    """Return the length that these bytes say (2.2.3); None if more have to come.

    Raises:
        MessageError: they say none.
    """
    if encoded[-1] & 0x80:
        if len(encoded) == _MOST_LENGTH_BYTES:
            raise MessageError("a packet whose length can't be read")
        return None
    return sum((byte & 0x7F) << 7 * place for place, byte in enumerate(encoded))
