"""A link is set free in the background, but not for ever."""

import asyncio

import pytest

from livemon.link.farewell import Farewell
from livemon.link.simulated.virtual_loop import run_virtually


class Slow:
    """A link that takes its time to end."""

    def __init__(self, takes_s: float) -> None:
        self.ended = False
        self._takes_s = takes_s

    async def close(self) -> None:
        await asyncio.sleep(self._takes_s)
        self.ended = True


def test_a_farewell_goes_on_although_whoever_waits_for_it_is_cancelled() -> None:
    async def main() -> None:
        farewell, link = Farewell(), Slow(1.0)
        waiting = asyncio.create_task(farewell.close(link))
        await asyncio.sleep(0.5)
        waiting.cancel()
        await asyncio.wait({waiting})
        assert not link.ended
        await farewell.finish()
        assert link.ended

    run_virtually(main())


def test_a_farewell_has_its_limit() -> None:
    async def main() -> float:
        await Farewell().close(Slow(60.0))
        return asyncio.get_running_loop().time()

    assert run_virtually(main()) == pytest.approx(5.0)
