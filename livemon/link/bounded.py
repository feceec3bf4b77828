"""Give a foreign call so many seconds, whatever it does with its cancellation.

`asyncio.timeout` alone waits for the cancelled call to finish cleaning up, and a Bluetooth stack
may stall exactly there. Such a call is left behind after a moment of grace; it ends when it ends.
"""

import asyncio
from collections.abc import Coroutine
from typing import Any, Final, TypeVar

T = TypeVar("T")

#: A cancelled call gets this long to clean up after itself before it is left behind.
_GRACE_S: Final = 0.5


class TookTooLong(Exception):  # noqa: N818 - told apart from a TimeoutError raised inside
    """The call did not end in time."""


async def bounded(call: Coroutine[Any, Any, T], within_s: float) -> T:
    """Return what `call` returns.

    Raises:
        TookTooLong: it did not end within `within_s`; it has been cancelled.
    """
    task = asyncio.create_task(call)
    # An error that comes after we have gone is nobody's; without this asyncio would report it. The
    # reference in the task's callbacks also keeps it alive.
    task.add_done_callback(_take_error)
    try:
        await asyncio.wait({task}, timeout=within_s)
        if task.done():
            return task.result()
        raise TookTooLong
    finally:
        if not task.done():
            await _let_go(task)


async def _let_go(task: asyncio.Task[T]) -> None:
    task.cancel()
    await asyncio.wait({task}, timeout=_GRACE_S)


def _take_error(task: asyncio.Task[T]) -> None:
    if not task.cancelled():
        task.exception()
