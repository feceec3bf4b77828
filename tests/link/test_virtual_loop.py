"""Virtual time: hours pass at once, in order, and nothing hangs."""

import asyncio

import pytest

from livemon.link.simulated.virtual_loop import VirtualTimeLoop, run_virtually


def test_an_hour_passes_at_once_and_in_order() -> None:
    async def main() -> list[str]:
        order: list[str] = []

        async def after(wait_s: float, name: str) -> None:
            await asyncio.sleep(wait_s)
            order.append(f"{name} at {asyncio.get_running_loop().time():.0f}")

        await asyncio.gather(after(3600, "late"), after(1, "early"), after(60, "between"))
        return order

    assert run_virtually(main()) == ["early at 1", "between at 60", "late at 3600"]


def test_a_wait_that_nothing_can_end_is_an_error_and_not_a_hang() -> None:
    async def main() -> None:
        await asyncio.Event().wait()

    with pytest.raises(RuntimeError, match="hang for ever"):
        run_virtually(main())


def test_loops_of_two_runs_begin_at_zero() -> None:
    async def main() -> int:
        loop = asyncio.get_running_loop()
        assert isinstance(loop, VirtualTimeLoop)
        return loop.now_ns()

    assert run_virtually(main()) == run_virtually(main()) == 0
