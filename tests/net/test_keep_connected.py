"""Staying connected: waits, words, and who gives up when. Time is virtual."""

import asyncio
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager, suppress
from random import Random

import pytest

from livemon.errors import UsageError
from livemon.link.simulated.virtual_loop import run_virtually
from livemon.net.broker import Connection
from livemon.net.keep_connected import keep_connected
from livemon.net.trouble import BrokerLost


class Enough(Exception):  # noqa: N818 - ends a test
    pass


class ScriptedBroker:
    """Does at each attempt what comes next: fail, or stand for so many seconds."""

    def __init__(self, *script: Exception | float) -> None:
        self.attempts_s: list[float] = []
        self._script = list(script)

    @asynccontextmanager
    async def connection(self) -> AsyncIterator[Connection]:
        self.attempts_s.append(asyncio.get_running_loop().time())
        if not self._script:
            raise Enough
        step = self._script.pop(0)
        if isinstance(step, Exception):
            raise step
        self.stands_s = step
        yield self  # type: ignore[misc]  # the work below asks it for nothing else

    async def work(self, _: Connection) -> None:
        await asyncio.sleep(self.stands_s)
        raise BrokerLost("the connection ended")


class Longest(Random):
    """Chance that shortens no wait."""

    def uniform(self, a: float, b: float) -> float:
        return max(a, b)


def played(broker: ScriptedBroker, chance: Callable[[], Random] = Longest) -> list[str]:
    told: list[str] = []
    with pytest.raises(Enough):
        run_virtually(keep_connected(broker, broker.work, chance=chance(), tell=told.append))
    return told


def test_waits_double_up_to_a_ceiling() -> None:
    broker = ScriptedBroker(*[BrokerLost("down")] * 7)

    told = played(broker)

    gaps = [b - a for a, b in zip(broker.attempts_s, broker.attempts_s[1:], strict=False)]
    assert gaps == [1, 2, 4, 8, 15, 15, 15]
    assert told == ["down"] * 7


def test_chance_shortens_a_wait_by_half_at_most() -> None:
    broker = ScriptedBroker(*[BrokerLost("down")] * 50)

    played(broker, lambda: Random(1))

    gaps = [b - a for a, b in zip(broker.attempts_s, broker.attempts_s[1:], strict=False)]
    assert all(7.5 <= gap <= 15 for gap in gaps[4:])
    assert len(set(gaps)) == len(gaps)


def test_a_connection_that_stood_makes_the_next_wait_a_short_one() -> None:
    broker = ScriptedBroker(*[BrokerLost("down")] * 4, 10.0, BrokerLost("down"))

    told = played(broker)

    assert broker.attempts_s[5] - broker.attempts_s[4] == 10 + 1
    assert told[4:6] == ["", "the connection ended"]


def test_connections_that_end_at_once_make_one_think_of_a_twin() -> None:
    told = played(ScriptedBroker(0.1, 0.1, 0.1, 0.1))

    assert told[:4] == ["", "the connection ended"] * 2
    assert "same name" in told[5]
    assert "same name" in told[7]


def test_a_refusal_at_the_first_attempt_is_for_a_person_to_read() -> None:
    broker = ScriptedBroker(UsageError("wrong code"))

    with pytest.raises(UsageError, match="wrong code"):
        run_virtually(keep_connected(broker, broker.work, chance=Longest(), tell=lambda _: None))


def test_a_refusal_later_is_tried_again() -> None:
    """A broker that starts may refuse everybody until it has read its files."""
    told = played(ScriptedBroker(20.0, UsageError("wrong code"), 20.0))

    assert told == ["", "the connection ended", "wrong code", "", "the connection ended"]


def test_it_ends_even_if_the_work_forgets_that_it_was_cancelled() -> None:
    """Python 3.11's asyncio.wait_for can do that to it."""

    async def forgets(_: Connection) -> None:
        with suppress(asyncio.CancelledError):
            await asyncio.sleep(3600)

    async def main() -> None:
        broker = ScriptedBroker(0.0)
        keeping = asyncio.create_task(
            keep_connected(broker, forgets, chance=Longest(), tell=lambda _: None)
        )
        await asyncio.sleep(1)
        keeping.cancel()
        await asyncio.wait({keeping})

        assert keeping.cancelled()
        assert len(broker.attempts_s) == 1

    run_virtually(main())
