"""The I/O thread: it runs one program, hands out its snapshots, and ends in good order."""

import asyncio
import signal
import threading

import pytest

from livemon.app.engine import Engine
from livemon.events import Head
from livemon.monitor.session import Session
from livemon.monitor.snapshot import SessionSnapshot


class Waiting:
    """Runs until it is cancelled, and tidies up."""

    def __init__(self) -> None:
        self.latest: SessionSnapshot | None = None
        self.started = threading.Event()
        self.tidy = False
        self.loop: asyncio.AbstractEventLoop | None = None

    async def run(self) -> None:
        self.loop = asyncio.get_running_loop()
        self.started.set()
        try:
            await asyncio.Event().wait()
        finally:
            await asyncio.sleep(0)
            self.tidy = True


class Failing:
    """Falls over at once."""

    latest = None

    async def run(self) -> None:
        raise ZeroDivisionError


def test_stopping_lets_the_program_tidy_up() -> None:
    program = Waiting()
    engine = Engine(program)
    engine.start()
    assert program.started.wait(5)

    engine.stop()

    assert program.tidy
    assert not engine.running
    assert engine.failure is None


def test_the_loop_is_a_selector_loop_outside_the_main_thread() -> None:
    """On every system: MQTT needs the one, Windows' Bluetooth the other."""
    program = Waiting()
    engine = Engine(program)
    engine.start()
    assert program.started.wait(5)
    engine.stop()

    assert isinstance(program.loop, asyncio.SelectorEventLoop)


def test_calls_run_in_the_engines_thread() -> None:
    program = Waiting()
    engine = Engine(program)
    engine.start()
    seen: list[str] = []
    done = threading.Event()

    engine.call(lambda: (seen.append(threading.current_thread().name), done.set()))

    assert done.wait(5)
    assert seen == ["livemon-io"]
    engine.stop()
    engine.call(lambda: seen.append("too late"))
    assert seen == ["livemon-io"]


def test_a_failure_is_kept_for_whoever_tells_it() -> None:
    ended = threading.Event()
    engine = Engine(Failing(), ended=ended.set)

    engine.start()

    assert ended.wait(5)
    assert isinstance(engine.failure, ZeroDivisionError)


def test_the_newest_snapshot_is_whatever_the_program_has() -> None:
    program = Waiting()
    engine = Engine(program)
    assert engine.latest() is None

    program.latest = Session(Head("2026-11-25T10:00:00+00:00", "s")).snapshot()

    assert engine.latest() is program.latest


@pytest.mark.skipif(not hasattr(signal, "pthread_kill"), reason="not to be had on Windows")
def test_an_interrupt_while_waiting_does_not_make_it_look_finished() -> None:
    """Ctrl-C strikes while the main thread waits; the program still gets to tidy up."""
    program = Waiting()
    engine = Engine(program)
    engine.start()
    assert program.started.wait(5)

    here = threading.get_ident()
    threading.Timer(0.05, lambda: signal.pthread_kill(here, signal.SIGINT)).start()
    with pytest.raises(KeyboardInterrupt):
        engine.wait(60)

    assert engine.running
    engine.stop()
    assert program.tidy
