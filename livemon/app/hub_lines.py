"""A live session as JSON lines on standard output, for other programs."""

import signal
import sys
from collections.abc import Callable
from typing import Final

from livemon.app.engine import Engine
from livemon.app.pauses import pass_over_what_is_there, visit_all_again
from livemon.monitor.payload import change_line, snapshot_line
from livemon.monitor.session import Session, Told

_LOOK_S: Final = 0.5


class Lines:
    """Writes what is wanted, as it happens."""

    def __init__(
        self, *, changes: bool, ticks: bool, write: Callable[[str], object] = sys.stdout.write
    ) -> None:
        self._changes = changes
        self._ticks = ticks
        self._write = write

    @property
    def wanted(self) -> bool:
        """Whether anything is to be written at all."""
        return self._changes or self._ticks

    def told(self, told: tuple[Told, ...]) -> None:
        """Take what changed."""
        if self._changes:
            for athlete, change in told:
                self._write(f"{change_line(athlete, change)}\n")
            if told:
                sys.stdout.flush()

    def tick(self, session: Session) -> None:
        """Take the state at a tick."""
        if self._ticks:
            self._write(f"{snapshot_line(session.snapshot())}\n")
            sys.stdout.flush()


def print_lines(engine: Engine) -> int:
    """Run a session that writes lines until it ends or somebody ends it; return the exit code.

    Raises:
        LivemonError: what the engine could not do.
    """
    before = signal.signal(signal.SIGTERM, signal.default_int_handler)
    pass_over_what_is_there()
    engine.start()
    try:
        while engine.running:
            engine.wait(_LOOK_S)
    except KeyboardInterrupt:
        pass  # the usual way to end it
    finally:
        visit_all_again()
        engine.stop()
        signal.signal(signal.SIGTERM, before)
    if engine.failure is not None:
        raise engine.failure
    return 0
