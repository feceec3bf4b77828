"""MQTT packets off a stream; a length that is too long is refused before its bytes come."""

import asyncio

from livemon.net.share_packets import Packet, kind_of, packet_of, read_length
from livemon.net.share_refusals import Refusal, Refused
from livemon.net.trouble import MessageError


async def read_packet(reader: asyncio.StreamReader, longest_bytes: int) -> Packet:
    """Return the next packet.

    Raises:
        Refused: it is too long, or none that is taken.
        OSError: the connection ended.
    """
    try:
        first = (await reader.readexactly(1))[0]
        kind_of(first)  # before anybody waits for the rest of something else
        encoded, length = b"", None
        while length is None:
            encoded += await reader.readexactly(1)
            length = read_length(encoded)
        if length > longest_bytes:
            raise Refused(Refusal.TOO_LONG, f"{length} bytes; {longest_bytes} are taken")
        return packet_of(first, encoded, await reader.readexactly(length))
    except asyncio.IncompleteReadError as end:
        raise ConnectionResetError("the client is gone") from end
    except MessageError as error:
        raise Refused(Refusal.NOT_OURS, str(error)) from error
