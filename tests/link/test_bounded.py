"""Calls into the system have a limit, even those that ignore it."""

import asyncio
import gc

import pytest

from livemon.link.bounded import TookTooLong, bounded
from livemon.link.simulated.virtual_loop import run_virtually


def test_a_call_in_time_gives_its_result_or_its_error() -> None:
    async def gives(value: int) -> int:
        await asyncio.sleep(1)
        return 10 // value

    assert run_virtually(bounded(gives(5), 2.0)) == 2
    with pytest.raises(ZeroDivisionError):
        run_virtually(bounded(gives(0), 2.0))


def test_a_call_that_ignores_its_cancellation_is_left_behind() -> None:
    async def stubborn() -> None:
        for _ in range(3):
            try:
                await asyncio.sleep(10)
            except asyncio.CancelledError:
                await asyncio.sleep(10)

    async def main() -> float:
        loop = asyncio.get_running_loop()
        with pytest.raises(TookTooLong):
            await bounded(stubborn(), 2.0)
        return loop.time()

    assert run_virtually(main()) == pytest.approx(2.5)


def test_an_error_that_comes_after_we_were_cancelled_is_nobodys(
    caplog: pytest.LogCaptureFixture,
) -> None:
    async def fails_late() -> None:
        try:
            await asyncio.sleep(10)
        finally:
            raise ZeroDivisionError

    async def main() -> None:
        task = asyncio.create_task(bounded(fails_late(), 20.0))
        await asyncio.sleep(1)
        task.cancel()
        await asyncio.wait({task})
        assert task.cancelled()

    run_virtually(main())
    gc.collect()
    assert caplog.text == ""
