"""While somebody watches, collections pass over what was there at the start; see pauses.py."""

import asyncio
import gc
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

from livemon.app.desk import LiveDesk
from livemon.app.engine import Engine
from livemon.app.hub_lines import print_lines
from livemon.app.show import Wishes, watch
from livemon.events import Head
from livemon.monitor.marks import Details
from livemon.monitor.session import Session
from livemon.monitor.snapshot import SessionSnapshot
from livemon.record.warning_lines import Happened

HEAD = Head("2026-11-25T10:00:00+00:00", "s")


class Watched:
    """Runs until it has been looked at while something was passed over, or in vain."""

    PATIENCE = 50

    def __init__(self, *, then: Callable[[], object] = lambda: None) -> None:
        self.passed_over = 0
        self._looks = 0
        self._then = then
        self._snapshot = Session(HEAD).snapshot()
        self._loop: asyncio.AbstractEventLoop | None = None
        self._over = asyncio.Event()

    @property
    def latest(self) -> SessionSnapshot:
        self._looks += 1
        self.passed_over = max(self.passed_over, gc.get_freeze_count())
        enough = self.passed_over or self._looks > self.PATIENCE
        if enough and self._loop is not None:
            loop, self._loop = self._loop, None
            loop.call_soon_threadsafe(self._over.set)
            self._then()
        return self._snapshot

    async def run(self) -> None:
        self._loop = asyncio.get_running_loop()
        await self._over.wait()

    def mark(self, athlete: str | None, kind: str, details: Details) -> None:
        """Nobody marks."""

    def mark_several(self, athletes: tuple[str | None, ...], kind: str, details: Details) -> None:
        """Nobody marks."""

    def undo(self) -> None:
        """Nobody marks."""

    def handled(self, athlete: str, what: Happened, for_s: float | None = None) -> None:
        """Nothing warns."""


def passed_over(program: Watched, wishes: Wishes) -> int:
    engine = Engine(program)
    watch(engine, LiveDesk(engine, program), wishes)
    return program.passed_over


def test_as_text_in_the_terminal() -> None:
    assert passed_over(Watched(), Wishes(window=False, every_s=0.01)) > 1000
    assert gc.get_freeze_count() == 0


def test_in_the_window_once_that_is_loaded(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    program = Watched(then=lambda: QTimer.singleShot(0, QApplication.closeAllWindows))

    assert passed_over(program, Wishes(window=True)) > 1000
    assert gc.get_freeze_count() == 0


class Looking:
    """Looks once what is passed over."""

    latest = None
    passed_over = 0

    async def run(self) -> None:
        self.passed_over = gc.get_freeze_count()


def test_as_lines() -> None:
    program = Looking()

    print_lines(Engine(program))

    assert program.passed_over > 1000
    assert gc.get_freeze_count() == 0
