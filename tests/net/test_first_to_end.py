"""Two halves of a connection end together, whatever either of them does."""

import asyncio
from contextlib import suppress

import pytest

from livemon.link.simulated.virtual_loop import run_virtually
from livemon.net.first_to_end import first_to_end
from livemon.net.trouble import BrokerLost


async def fails() -> None:
    await asyncio.sleep(1)
    raise BrokerLost("gone")


async def goes_on() -> None:
    await asyncio.sleep(3600)


async def forgets_once() -> None:
    """As asyncio.wait_for may on Python 3.11."""
    with suppress(asyncio.CancelledError):
        await asyncio.sleep(3600)
    await asyncio.sleep(3600)


@pytest.mark.parametrize("other", [goes_on, forgets_once])
def test_the_error_of_the_first_comes_out_and_the_other_has_ended(other) -> None:
    async def main() -> None:
        with pytest.raises(BrokerLost):
            await first_to_end(fails(), other())

        assert asyncio.all_tasks() == {asyncio.current_task()}
        assert asyncio.get_running_loop().time() < 2

    run_virtually(main())


def test_both_end_when_the_whole_is_cancelled() -> None:
    async def main() -> None:
        whole = asyncio.create_task(first_to_end(goes_on(), forgets_once()))
        await asyncio.sleep(1)
        whole.cancel()
        await asyncio.wait({whole})

        assert whole.cancelled()
        assert asyncio.all_tasks() == {asyncio.current_task()}

    run_virtually(main())
