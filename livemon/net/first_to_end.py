"""Run two halves of one connection side by side: when one ends, so does the other."""

import asyncio
from collections.abc import Coroutine
from typing import Any


async def first_to_end(*work: Coroutine[Any, Any, None]) -> None:
    """Run all until the first ends, and let its error out."""
    tasks = {asyncio.create_task(each) for each in work}
    try:
        done, _ = await asyncio.wait(tasks, return_when=asyncio.FIRST_COMPLETED)
        done.pop().result()
    finally:
        for task in tasks:
            task.cancel()
        await asyncio.gather(*tasks, return_exceptions=True)
