"""Stay connected to a broker: connect, do the work, and begin again when the connection ends."""

import asyncio
import logging
from collections.abc import Callable, Coroutine, Iterator
from random import Random
from typing import Any, Final, NoReturn

from livemon.errors import UsageError
from livemon.net.broker import Broker, Connection
from livemon.net.first_to_end import raise_if_cancelled
from livemon.net.trouble import BrokerLost

_log = logging.getLogger(__name__)

_FIRST_S: Final = 1.0
#: A class must not wait long after the broker is back.
_CEILING_S: Final = 15.0
#: A connection that stood this long was a good one.
_GOOD_AFTER_S: Final = 10.0
#: Connections in a row that ended at once: a broker ends one when another comes with its id.
_SUSPICIOUS: Final = 3

_TWO_WITH_ONE_ID: Final = (
    "the broker ends each connection at once; is another livemon running with the same name?"
)


async def keep_connected(
    broker: Broker,
    work: Callable[[Connection], Coroutine[Any, Any, None]],
    *,
    chance: Random,
    tell: Callable[[str], None],
    sleep: Callable[[float], Coroutine[Any, Any, None]] = asyncio.sleep,
) -> NoReturn:
    """Do `work` on one connection after another, until cancelled.

    `tell` takes what is wrong, in words; empty words when a connection stands.

    Raises:
        UsageError: the broker refuses us at the first attempt, while somebody is there to read it.
            Later it is tried again, because a broker that starts may refuse everybody.
    """
    waits, was_there, brief = _waits(chance), False, 0
    loop = asyncio.get_running_loop()
    while True:
        raise_if_cancelled()
        began_s: float | None = None
        try:
            async with broker.connection() as connection:
                began_s, was_there = loop.time(), True
                tell("")
                await work(connection)
        except BrokerLost as lost:
            problem = str(lost)
        except UsageError as refusal:
            if not was_there:
                raise
            problem = str(refusal)
        else:
            problem = "the work ended"
        if began_s is not None and loop.time() - began_s >= _GOOD_AFTER_S:
            waits, brief = _waits(chance), 0
        else:
            brief += began_s is not None
        problem = _TWO_WITH_ONE_ID if brief >= _SUSPICIOUS else problem
        _log.info("%s", problem)
        tell(problem)
        await sleep(next(waits))


def _waits(chance: Random) -> Iterator[float]:
    """Yield waits that double, each shortened by up to a half so that relays don't come at once."""
    wait_s = _FIRST_S
    while True:
        yield wait_s * chance.uniform(0.5, 1.0)
        wait_s = min(wait_s * 2, _CEILING_S)
