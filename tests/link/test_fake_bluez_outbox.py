"""What leaves goes one after another, and descriptors are closed once they are sent."""

import asyncio
import os
import socket
from collections.abc import AsyncIterator
from contextlib import suppress

import pytest

pytest.importorskip("dbus_fast", reason="comes with bleak on Linux only")

from dbus_fast import Message

from livemon.link.fake_bluez.outbox import Outbox


class SlowBus:
    """A connected bus that has written a message only when the test says so."""

    connected = True

    def __init__(self) -> None:
        self._sock, self.other_end = socket.socketpair()
        self.begun: list[Message] = []
        self.written: list[asyncio.Future[None]] = []

    def send(self, message: Message) -> asyncio.Future[None]:
        self.begun.append(message)
        self.written.append(asyncio.get_running_loop().create_future())
        return self.written[-1]

    def close(self) -> None:
        self._sock.close()
        self.other_end.close()


@pytest.fixture
async def slow_bus() -> AsyncIterator[SlowBus]:
    bus = SlowBus()
    yield bus
    bus.close()


def message(*descriptors: int) -> Message:
    return Message.new_signal("/", "a.b", "C", unix_fds=list(descriptors))


def is_open(descriptor: int) -> bool:
    try:
        os.fstat(descriptor)
    except OSError:
        return False
    return True


def fill(sock: socket.socket) -> None:
    sock.setblocking(False)
    with suppress(BlockingIOError):
        while True:
            sock.send(bytes(4096))


def drain(sock: socket.socket) -> None:
    sock.setblocking(False)
    with suppress(BlockingIOError):
        while True:
            sock.recv(1_000_000)


async def test_a_message_waits_until_the_one_before_is_written(slow_bus) -> None:
    """dbus-fast would go on with it at once and might find the socket full."""
    outbox = Outbox(slow_bus)
    one, two, three = message(), message(), message()
    for each in (one, two, three):
        outbox.put(each)
    assert slow_bus.begun == [one]

    slow_bus.written[0].set_result(None)
    await asyncio.sleep(0)
    assert slow_bus.begun == [one, two]

    slow_bus.written[1].set_result(None)
    await asyncio.sleep(0)
    assert slow_bus.begun == [one, two, three]
    outbox.close()


async def test_a_message_waits_for_room_in_the_socket(slow_bus) -> None:
    fill(slow_bus._sock)
    outbox = Outbox(slow_bus)
    outbox.put(message())
    assert slow_bus.begun == []

    drain(slow_bus.other_end)
    while not slow_bus.begun:  # noqa: ASYNC110 - the loop finds out by itself
        await asyncio.sleep(0)
    outbox.close()


async def test_descriptors_are_closed_once_sent_or_given_up(slow_bus) -> None:
    outbox = Outbox(slow_bus)
    sent, waiting, late = (os.open(os.devnull, os.O_RDONLY) for _ in range(3))
    outbox.put(message(sent))
    outbox.put(message(waiting))
    assert is_open(sent)

    slow_bus.written[0].set_exception(ConnectionError())
    slow_bus.connected = False
    await asyncio.sleep(0)
    assert not is_open(sent)
    assert is_open(waiting)

    outbox.close()
    outbox.put(message(late))
    assert not is_open(waiting)
    assert not is_open(late)
