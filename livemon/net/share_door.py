"""Where connections come in to a share, and stay few until they have said who they are.

asyncio's own server would finish the TLS handshake of as many as come before it tells of any. Here
each is counted from its first moment; where too many wait, the oldest of the address that has most
of them goes, so that a crowd from one machine costs nobody else the way in.
"""

import asyncio
import logging
import socket
import ssl
from collections import Counter
from contextlib import suppress
from dataclasses import dataclass
from typing import Final, NoReturn

from livemon.net.share_hall import Hall
from livemon.net.share_packets import Hello, Kind, read_hello
from livemon.net.share_refusals import ANSWERS, Refusal, Refused
from livemon.net.share_stream import read_packet
from livemon.net.share_visit import Visit
from livemon.net.share_write import connack
from livemon.net.trouble import MessageError

_log = logging.getLogger(__name__)

#: When this computer has no more open files, some may close in this time.
_BREATHE_S: Final = 0.2


@dataclass(slots=True, eq=False)
class Waiting:
    """A connection that has not said yet who it is."""

    host: str
    task: asyncio.Task[None]


class Door:
    """One listening socket; with `trust` it speaks TLS."""

    def __init__(self, hall: Hall, listening: socket.socket, trust: ssl.SSLContext | None) -> None:
        self._hall = hall
        self._listening = listening
        self._trust = trust
        self._waiting: list[Waiting] = []  # oldest first
        self._tasks: set[asyncio.Task[None]] = set()

    async def open(self) -> NoReturn:
        """Let clients in, until cancelled; then no connection is left."""
        self._listening.setblocking(False)
        loop = asyncio.get_running_loop()
        try:
            while True:
                try:
                    connection, address = await loop.sock_accept(self._listening)
                except OSError as error:
                    _log.warning("no connection can be taken: %s", error)
                    await asyncio.sleep(_BREATHE_S)
                    continue
                self._take(connection, address[0])
                await asyncio.sleep(0)  # let it begin: what never began could not close its socket
        finally:
            self._listening.close()
            for task in self._tasks:
                task.cancel()
            if self._tasks:
                await asyncio.wait(self._tasks)

    def _take(self, connection: socket.socket, host: str) -> None:
        task = asyncio.create_task(self._serve(connection, host))
        self._tasks.add(task)
        task.add_done_callback(self._tasks.discard)
        self._waiting.append(Waiting(host, task))
        if len(self._waiting) > self._hall.limits.waiting:
            crowd = Counter(each.host for each in self._waiting).most_common(1)[0][0]
            oldest = next(each for each in self._waiting if each.host == crowd)
            self._no_longer_waits(oldest.task)
            oldest.task.cancel()
            self._hall.log.note(Refused(Refusal.CROWD), crowd)

    def _no_longer_waits(self, task: asyncio.Task[None] | None) -> None:
        self._waiting = [each for each in self._waiting if each.task is not task]

    async def _serve(self, connection: socket.socket, host: str) -> None:
        """See one connection from its beginning to its end, whatever happens in it."""
        writer: asyncio.StreamWriter | None = None
        try:
            connection.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
            async with asyncio.timeout(self._hall.limits.hello_s):
                reader, writer = await self._streams(connection)
                hello = await self._hello(reader)
            await self._welcome(hello, reader, writer, host)
        except TimeoutError:
            self._hall.log.note(Refused(Refusal.SILENT), host)
        except Refused as refused:
            self._hall.log.note(refused, host)
        except OSError as error:
            _log.info("%s: %s", host, error)
        finally:
            self._no_longer_waits(asyncio.current_task())
            if writer is None:
                connection.close()
            else:
                writer.close()

    async def _streams(
        self, connection: socket.socket
    ) -> tuple[asyncio.StreamReader, asyncio.StreamWriter]:
        loop = asyncio.get_running_loop()
        reader = asyncio.StreamReader()
        protocol = asyncio.StreamReaderProtocol(reader)
        transport, _ = await loop.connect_accepted_socket(
            lambda: protocol, connection, ssl=self._trust
        )
        return reader, asyncio.StreamWriter(transport, protocol, reader, loop)

    async def _hello(self, reader: asyncio.StreamReader) -> Hello:
        packet = await read_packet(reader, self._hall.limits.longest_bytes)
        if packet.kind is not Kind.CONNECT:
            raise Refused(Refusal.NOT_OURS, "it does not begin with CONNECT")
        try:
            return read_hello(packet.body)
        except MessageError as error:
            raise Refused(Refusal.NOT_OURS, str(error)) from error

    async def _welcome(
        self, hello: Hello, reader: asyncio.StreamReader, writer: asyncio.StreamWriter, host: str
    ) -> None:
        try:
            seat = await self._hall.seat(hello)
        except Refused as refused:
            await self._turn_away(refused.refusal, writer)
            raise
        try:
            self._no_longer_waits(asyncio.current_task())
            who = f"{seat.name} at {host}"
            await Visit(self._hall, seat, hello, reader, writer, who).run()
        finally:
            self._hall.vacate(seat)

    async def _turn_away(self, refusal: Refusal, writer: asyncio.StreamWriter) -> None:
        if refusal is Refusal.WRONG_CODE:
            await asyncio.sleep(self._hall.limits.wrong_code_s)
        answer = ANSWERS[refusal]
        if answer is not None:
            writer.write(connack(answer))
            with suppress(OSError):
                await writer.drain()
