"""A share while it runs: a broker behind one or two doors, and perhaps an announcement."""

import asyncio
import socket
import ssl
from contextlib import AsyncExitStack
from dataclasses import dataclass

from livemon.net.share_amqtt import switch
from livemon.net.share_door import Door
from livemon.net.share_hall import Hall
from livemon.net.share_limits import ShareLimits
from livemon.net.share_refusals import RefusalLog
from livemon.net.share_rules import Keys, Register


@dataclass(frozen=True, slots=True)
class Entrance:
    """A socket that listens, and how TLS is spoken there; None is plain text."""

    listening: socket.socket
    trust: ssl.SSLContext | None


async def run_share(
    keys: Keys,
    entrances: tuple[Entrance, ...],
    log: RefusalLog,
    *,
    limits: ShareLimits,
) -> None:
    """Serve until cancelled, then close everything. Who comes a moment too early waits in line."""
    async with AsyncExitStack() as stack:
        broker = await stack.enter_async_context(switch())
        hall = Hall(Register(keys, limits), limits, log, broker)
        doors = [Door(hall, entrance.listening, entrance.trust) for entrance in entrances]
        # Not `first_to_end`, which asks again and again: a door takes its time to close.
        group = await stack.enter_async_context(asyncio.TaskGroup())
        for door in doors:
            group.create_task(door.open())
