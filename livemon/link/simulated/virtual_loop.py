"""An event loop whose time jumps to the next timer as soon as there is nothing left to do.

An hour of dropouts passes in seconds, the same on every run. It serves code that waits on timers
and on itself; whoever waits for another thread or process needs a real loop.
"""

import asyncio
import selectors
from collections.abc import Coroutine
from typing import Any, TypeVar

T = TypeVar("T")


class _JumpingSelector(selectors.DefaultSelector):
    """Never waits: where a real selector would, time moves on."""

    def __init__(self) -> None:
        super().__init__()
        self.now_s = 0.0

    def select(self, timeout: float | None = None) -> list[tuple[selectors.SelectorKey, int]]:
        ready = super().select(0)
        if ready or timeout == 0:
            return ready
        if timeout is None:
            raise RuntimeError("everything waits and no timer is set: this would hang for ever")
        self.now_s += max(timeout, 0.0)
        return []


class VirtualTimeLoop(asyncio.SelectorEventLoop):
    """A selector loop on virtual time, beginning at 0 s."""

    def __init__(self) -> None:
        self._jumping = _JumpingSelector()
        super().__init__(self._jumping)

    def time(self) -> float:
        """Return virtual seconds since the loop was made."""
        return self._jumping.now_s

    def now_ns(self) -> int:
        """Return virtual nanoseconds since the loop was made."""
        return round(self._jumping.now_s * 1e9)


def run_virtually(main: Coroutine[Any, Any, T]) -> T:
    """Run `main` to its end on virtual time."""
    with asyncio.Runner(loop_factory=VirtualTimeLoop) as runner:
        return runner.run(main)
