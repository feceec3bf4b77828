"""MQTT 3.1.1 packets that a share's door writes: to a client, and to amqtt in a client's name."""

from typing import Final

from livemon.net.share_packets import Answer, Hello, Kind, Packet

GOODBYE: Final = bytes([Kind.DISCONNECT << 4, 0])


def connack(answer: Answer) -> bytes:
    """Return the answer to a CONNECT (3.2); there never is an old session."""
    return bytes([0x20, 2, 0, answer])


def connect_as(name: str, hello: Hello) -> bytes:
    """Return the CONNECT that amqtt gets: our id, a clean session, no secrets.

    No keep-alive either: amqtt takes note of one but never acts on it; the door does.
    """
    will = hello.will
    flags = 0x02 | (0x04 | 0x08 if will else 0)  # clean session; a will, of quality 1
    body = b"\x00\x04MQTT\x04" + bytes([flags]) + b"\x00\x00" + _data(name.encode())
    if will is not None:
        body += _data(will.topic.encode()) + _data(will.payload)
    return _packet(Kind.CONNECT << 4, body)


def kept(topic: str, payload: bytes) -> bytes:
    """Return a PUBLISH that says by its flag that it was kept (3.3.1.3), of quality 0."""
    return _packet(Kind.PUBLISH << 4 | 0x01, _data(topic.encode()) + payload)


def without_keeping(packet: Packet) -> bytes:
    """Return a PUBLISH without its retain flag."""
    return bytes([packet.raw[0] & ~0x01]) + packet.raw[1:]


def _data(data: bytes) -> bytes:
    return len(data).to_bytes(2, "big") + data


def _packet(first: int, body: bytes) -> bytes:
    length, encoded = len(body), bytearray()
    while True:
        length, low = divmod(length, 0x80)
        encoded.append(low | (0x80 if length else 0))
        if not length:
            return bytes([first, *encoded]) + body
