"""Run the halves of one connection side by side: when one ends, so do the others."""

import asyncio
from collections.abc import Coroutine
from typing import Any, Final

#: How long a half may take to end before it is asked again.
_ASK_AGAIN_S: Final = 0.1


async def first_to_end(*work: Coroutine[Any, Any, None]) -> None:
    """Run all until the first ends, end the others, and let its error out.

    They are asked to end until they do: on Python 3.11 `asyncio.wait_for`, which the MQTT library
    uses, forgets a cancellation that comes just as its call is done
    (https://github.com/python/cpython/issues/86296).
    """
    tasks = {asyncio.create_task(each) for each in work}
    try:
        done, _ = await asyncio.wait(tasks, return_when=asyncio.FIRST_COMPLETED)
        done.pop().result()
    finally:
        while running := {task for task in tasks if not task.done()}:
            for task in running:
                task.cancel()
            await asyncio.wait(running, timeout=_ASK_AGAIN_S)
        await asyncio.gather(*tasks, return_exceptions=True)  # each error is looked at


def raise_if_cancelled() -> None:
    """End the running task if it was asked to and forgot.

    Raises:
        CancelledError: it was.
    """
    task = asyncio.current_task()
    if task is not None and task.cancelling():
        raise asyncio.CancelledError
