"""Messages on their way out, in order, handed over only when the socket has room.

dbus-fast takes a full socket for a broken one and closes its connection (seen with 5.2.0 when
dozens of devices dropped at once), so each message waits until the kernel says it can be written.
"""

import asyncio
import os
import select
from collections import deque
from functools import partial

from dbus_fast import Message
from dbus_fast.aio import MessageBus


class Outbox:
    """An unbounded queue in front of a connected bus; it closes descriptors that it has sent."""

    def __init__(self, bus: MessageBus) -> None:
        self._bus = bus
        self._waiting: deque[Message] = deque()
        self._sending: asyncio.Future[None] | None = None
        self._loop = asyncio.get_running_loop()
        # A loop watches a descriptor for one party only, and dbus-fast is that party; hence a
        # second descriptor for the same socket. There is no public way to it.
        assert bus._sock is not None  # it is connected
        self._fd = os.dup(bus._sock.fileno())
        self._room = select.poll()
        self._room.register(self._fd, select.POLLOUT)
        self._closed = False

    def put(self, message: Message) -> None:
        """Send `message` after all that were put before it; forget it if closed."""
        if self._closed:
            _close_descriptors(message)
            return
        self._waiting.append(message)
        if len(self._waiting) == 1:
            self._push()

    def close(self) -> None:
        """Forget what has not been sent."""
        self._closed = True
        while self._waiting:
            _close_descriptors(self._waiting.popleft())
        self._loop.remove_writer(self._fd)
        os.close(self._fd)

    def _push(self, _sent: object = None) -> None:
        while self._waiting and self._bus.connected:
            if self._sending is not None and not self._sending.done():
                # Longer than the room there was: dbus-fast writes the rest of it.
                self._sending.add_done_callback(self._push)
                return
            if not self._room.poll(0):
                self._loop.add_writer(self._fd, self._push_again)
                return
            message = self._waiting.popleft()
            self._sending = self._bus.send(message)
            self._sending.add_done_callback(partial(_after, message))

    def _push_again(self) -> None:
        self._loop.remove_writer(self._fd)
        self._push()


def _after(message: Message, sending: asyncio.Future[None]) -> None:
    _close_descriptors(message)
    if not sending.cancelled():
        sending.exception()  # looked at: whoever waits on the bus learns that it died


def _close_descriptors(message: Message) -> None:
    for fd in message.unix_fds:
        os.close(fd)
