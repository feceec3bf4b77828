"""One thread that talks to the world, beside the one that draws.

Qt keeps the main thread. Everything that waits for radio, network or disk runs in one asyncio
loop in a second thread, and that same thread feeds the core. The only thing that passes from here
to the view is `latest`, an immutable snapshot behind one attribute: no locks, no signals.
"""

import asyncio
import contextlib
import threading
from collections.abc import Callable, Coroutine
from typing import Final, Protocol

from livemon.monitor.snapshot import SessionSnapshot

#: How long the loop may take to leave sensors and files in good order.
_STOP_S: Final = 8.0


class Program(Protocol):
    """What runs in the engine's thread."""

    @property
    def latest(self) -> SessionSnapshot | None:
        """The newest snapshot; None before the first."""

    def run(self) -> Coroutine[None, None, None]:
        """Do the work until it is done or cancelled."""


class Engine:
    """Runs one program in a thread with a selector loop.

    A selector loop on every system, because the MQTT client needs one on Windows, and a thread of
    its own, because Windows' Bluetooth callbacks never reach a thread that a window owns.
    """

    def __init__(
        self,
        program: Program,
        *,
        ended: Callable[[], None] = lambda: None,
        name: str = "livemon-io",
    ) -> None:
        self._program = program
        self._ended = ended
        self._loop: asyncio.AbstractEventLoop | None = None
        self._ready = threading.Event()
        # Not Thread.join: a Ctrl-C inside it makes CPython 3.11 take the thread for finished.
        self._over = threading.Event()
        self._thread = threading.Thread(target=self._main, name=name, daemon=True)
        self.failure: BaseException | None = None

    def latest(self) -> SessionSnapshot | None:
        """Return the newest snapshot; any thread may ask."""
        return self._program.latest

    @property
    def running(self) -> bool:
        """Whether the thread is still at work."""
        return self._ready.is_set() and not self._over.is_set()

    def start(self) -> None:
        """Start the thread and wait until its loop accepts calls."""
        self._thread.start()
        self._ready.wait()

    def call(self, function: Callable[[], object]) -> None:
        """Have `function` run in the engine's thread; after the end it is dropped."""
        if self._loop is None:
            return
        with contextlib.suppress(RuntimeError):  # the loop closed a moment ago
            self._loop.call_soon_threadsafe(function)

    def cancel(self) -> None:
        """Ask the program to put things in order and end; returns at once."""
        self.call(self._cancel)

    def stop(self) -> None:
        """Cancel the program and wait until it has put things in order, but not for ever."""
        self.cancel()
        self._over.wait(_STOP_S)

    def wait(self, seconds: float) -> None:
        """Wait so long for the program's own end."""
        self._over.wait(seconds)

    def _cancel(self) -> None:
        self._task.cancel()

    def _main(self) -> None:
        try:
            with asyncio.Runner(loop_factory=asyncio.SelectorEventLoop) as runner:
                runner.run(self._run())
        except asyncio.CancelledError:
            pass
        except BaseException as failure:  # noqa: BLE001 - handed to the main thread, which tells
            self.failure = failure
        finally:
            self._ready.set()
            self._over.set()
            self._ended()

    async def _run(self) -> None:
        self._loop = asyncio.get_running_loop()
        self._task = asyncio.create_task(self._program.run(), name="program")
        self._ready.set()
        await self._task
