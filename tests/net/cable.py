"""A cable between a client and a broker that can be cut, bent and pulled: a small TCP proxy.

It runs in a thread of its own, as the far end of a cable does: what a client's library does to its
loop when connections break can't touch it.
"""

import asyncio
import threading
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from enum import Enum


class Cable(Enum):
    """How the cable is."""

    GOOD = "good"
    REFUSES = "refuses"  #: hangs up on whoever calls
    HANGS = "hangs"  #: answers the call, and nothing else
    HALF_OPEN = "half open"  #: swallows everything, and tells nobody


class Proxy:
    """Listens on `port`; carries bytes to and from the broker."""

    def __init__(self, broker_port: int) -> None:
        self.cable = Cable.GOOD
        self.port = 0
        self.cut_after: int | None = None  #: bytes from a client until its connection is reset
        self.cuts = 0
        self._broker_port = broker_port
        self._loop = asyncio.get_running_loop()
        self._closing = asyncio.Event()
        self._writers: set[asyncio.StreamWriter] = set()
        self._tasks: set[asyncio.Task[None]] = set()

    def cut_all(self) -> None:
        """Reset all connections; from any thread."""
        self._loop.call_soon_threadsafe(self._abort)

    def _abort(self) -> None:
        for writer in self._writers:
            writer.transport.abort()

    async def close(self) -> None:
        self._closing.set()
        self._abort()
        if self._tasks:
            await asyncio.wait(self._tasks)

    async def serve(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        task = asyncio.current_task()
        assert task is not None
        self._tasks.add(task)
        self._writers.add(writer)
        try:
            await self._carry(reader, writer)
        except OSError:
            return
        finally:
            self._tasks.discard(task)
            self._writers.discard(writer)
            writer.transport.abort()

    async def _carry(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        if self.cable is Cable.REFUSES:
            return
        if self.cable is Cable.HANGS:
            await self._closing.wait()
            return
        from_broker, to_broker = await asyncio.open_connection("127.0.0.1", self._broker_port)
        self._writers.add(to_broker)
        try:
            forth = asyncio.create_task(self._pump(reader, to_broker, counted=True))
            back = asyncio.create_task(self._pump(from_broker, writer, counted=False))
            await asyncio.wait({forth, back}, return_when=asyncio.FIRST_COMPLETED)
            for half in (forth, back):
                half.cancel()
            await asyncio.gather(forth, back, return_exceptions=True)
        finally:
            self._writers.discard(to_broker)
            to_broker.transport.abort()

    async def _pump(
        self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter, *, counted: bool
    ) -> None:
        while data := await reader.read(4096):
            if self.cable is Cable.HALF_OPEN:
                continue
            if counted and self.cut_after is not None:
                data = data[: self.cut_after]
                self.cut_after -= len(data)
            writer.write(data)
            if counted and self.cut_after == 0:
                self.cut_after = None
                self.cuts += 1
                return
            await writer.drain()


@asynccontextmanager
async def proxied(broker_port: int) -> AsyncIterator[Proxy]:
    ready: asyncio.Future[Proxy] = asyncio.get_running_loop().create_future()
    ours = asyncio.get_running_loop()
    over = threading.Event()

    async def run() -> None:
        proxy = Proxy(broker_port)
        server = await asyncio.start_server(proxy.serve, "127.0.0.1", 0)
        proxy.port = server.sockets[0].getsockname()[1]
        ours.call_soon_threadsafe(ready.set_result, proxy)
        await asyncio.to_thread(over.wait)
        server.close()
        await proxy.close()
        await server.wait_closed()

    thread = threading.Thread(target=asyncio.run, args=(run(),))
    thread.start()
    try:
        yield await ready
    finally:
        over.set()
        await asyncio.to_thread(thread.join)
