"""One client's connection to a share, once it has a seat. Nothing passes that was not allowed."""

import asyncio
import logging
from contextlib import suppress
from typing import Final

from livemon.net.first_to_end import first_to_end
from livemon.net.share_amqtt import Inflow, Outflow
from livemon.net.share_hall import Hall, Seat
from livemon.net.share_packets import Hello, Kind, LastWord, Packet, read_filters, read_publish
from livemon.net.share_refusals import Refusal, Refused
from livemon.net.share_stream import read_packet
from livemon.net.share_write import GOODBYE, connect_as, without_keeping
from livemon.net.topics import HUB
from livemon.net.trouble import MessageError

_log = logging.getLogger(__name__)

#: 3.1.2.10: a client is given up after one and a half times the time it promised to speak within.
_PATIENCE: Final = 1.5
_RETAIN: Final = 0x01
_SUBACK: Final = 9


class Visit:
    """A connection that was let in; `who` is for the log."""

    def __init__(
        self,
        hall: Hall,
        seat: Seat,
        hello: Hello,
        reader: asyncio.StreamReader,
        writer: asyncio.StreamWriter,
        who: str,
    ) -> None:
        self._hall = hall
        self._seat = seat
        self._hello = hello
        self._reader = reader
        self._writer = writer
        self._who = who
        self._inflow = Inflow()
        most_s = hall.limits.most_silent_s
        self._silent_s = min(hello.keep_alive_s * _PATIENCE or most_s, most_s)

    async def run(self) -> None:
        """Serve it until it ends.

        Raises:
            Refused: it did what it may not.
            OSError: it went away without a word.
        """
        self._inflow.feed(connect_as(self._seat.client_id, self._hello))
        outflow = Outflow(self._writer, self._tell)
        session = asyncio.create_task(self._hall.switch.carry(self._inflow, outflow))
        polite = False
        try:
            await first_to_end(self._listen(), self._be_called_away(), _end_of(session))
            polite = True
        finally:
            self._say_goodbye(polite=polite)
            await self._see_off(session)

    async def _listen(self) -> None:
        """Pass on what the client says, until it says goodbye."""
        loop = asyncio.get_running_loop()
        while (packet := await self._next()).kind is not Kind.DISCONNECT:
            self._inflow.feed(self._allowed(packet))
            wait_s = self._hall.wait_s(self._seat.name, len(packet.raw), loop.time())
            if wait_s > 0:
                self._hall.log.note(Refused(Refusal.TOO_MUCH), self._who)
                await asyncio.sleep(wait_s)

    async def _next(self) -> Packet:
        try:
            async with asyncio.timeout(self._silent_s):
                return await read_packet(self._reader, self._hall.limits.longest_bytes)
        except TimeoutError as error:
            raise Refused(Refusal.GONE, f"in {self._silent_s:g} s") from error

    def _allowed(self, packet: Packet) -> bytes:
        """Return what the broker gets of it."""
        try:
            match packet.kind:
                case Kind.CONNECT:
                    raise Refused(Refusal.NOT_OURS, "a second CONNECT")
                case Kind.PUBLISH:
                    return self._published(packet, *read_publish(packet))
                case Kind.SUBSCRIBE:
                    self._check_filters(read_filters(packet))
        except MessageError as error:
            raise Refused(Refusal.NOT_OURS, str(error)) from error
        return packet.raw

    def _published(self, packet: Packet, topic: str, payload: bytes) -> bytes:
        stays = bool(packet.flags & _RETAIN)
        if not self._hall.register.may_say(self._seat.name, topic, stays=stays):
            raise Refused(Refusal.FOREIGN_TOPIC, f"publishing on {topic[:100]!r}")
        if stays and self._seat.name != HUB:  # there is nobody to keep the hub's words for
            self._hall.stay(LastWord(topic, payload))
        return without_keeping(packet)

    def _check_filters(self, filters: tuple[str, ...]) -> None:
        for each in filters:
            if not self._hall.register.may_hear(self._seat.name, each):
                raise Refused(Refusal.FOREIGN_TOPIC, f"listening to {each[:100]!r}")

    def _tell(self, packet: bytes) -> None:
        """Send a packet to the client; to a hub that subscribed, also what stayed."""
        self._writer.write(packet)
        if self._seat.name == HUB and packet[0] >> 4 == _SUBACK:
            self._writer.writelines(self._hall.what_stays())

    async def _be_called_away(self) -> None:
        await self._seat.leave.wait()

    def _say_goodbye(self, *, polite: bool) -> None:
        """End the session behind: without its will if the client goes, or comes back, by itself."""
        if polite:
            self._inflow.feed(GOODBYE)
            return
        if self._hello.will is not None:
            self._hall.stay(self._hello.will)
        self._inflow.feed_eof()

    async def _see_off(self, session: asyncio.Task[None]) -> None:
        await asyncio.wait({session}, timeout=self._hall.limits.farewell_s)
        session.cancel()
        with suppress(asyncio.CancelledError):
            await asyncio.wait({session})
        if not session.cancelled() and (error := session.exception()):
            _log.error("%s: the broker failed: %r", self._who, error)


async def _end_of(session: asyncio.Task[None]) -> None:
    await asyncio.wait({session})
