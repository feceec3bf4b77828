"""How late the engine's loop gets, with 24 athletes live and the window open.

A time stamp is taken on the loop, so its lateness is inside every one. First an hour on virtual
time: how long each turn of the loop takes in processor time, for nothing else can start meanwhile.
Then a minute in real time, the window drawing in its own thread: how late a call comes that is due
each 20 ms, the wait for Python's lock and for other programs included. As in the program itself,
collections pass over what was there at the start; here the invented packets are among that.

    QT_QPA_PLATFORM=offscreen python -m benchmarks.loop
"""

import argparse
import asyncio
import os
import statistics
import time
from array import array
from collections.abc import Callable, Iterator
from random import Random

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

from benchmarks.endless import endless
from benchmarks.figure import Figure
from benchmarks.latency import Unheard
from livemon.app.engine import Engine
from livemon.app.gym import HOST, gym_of
from livemon.app.live import Live
from livemon.app.pauses import pass_over_what_is_there, visit_all_again
from livemon.link.clocks import Clocks, read_clocks
from livemon.link.simulated.virtual_loop import VirtualTimeLoop
from livemon.monitor.snapshot import SessionSnapshot
from livemon.synthetic.sessions import OVER_THE_LINE
from livemon.view.qt.window import LiveWindow
from livemon.view.settings import ViewSettings

ATHLETES = 24
VIRTUAL_S, REAL_S, BEGUN_S = 3600.0, 60.0, 5.0
DRAW_EVERY_S = 2.0
BEAT_S = 0.02
LATE_MS = 50.0


class TimedLoop(VirtualTimeLoop):
    """Notes how long each turn took, less what was spent drawing: that is another thread's work."""

    def __init__(self) -> None:
        super().__init__()
        self.turns_ms, self.drawn_s = array("f"), 0.0

    def _run_once(self) -> None:
        begun_s, self.drawn_s = time.thread_time(), 0.0
        super()._run_once()  # type: ignore[misc] # asyncio's own, which typeshed leaves out
        self.turns_ms.append(1000 * (time.thread_time() - begun_s - self.drawn_s))


def session(now_ns: Callable[[], int], clocks: Callable[[], Clocks]) -> Live:
    """Return a class that trains for ever."""
    gym = endless(gym_of(OVER_THE_LINE, ATHLETES, seed=1))
    return Live(
        gym.head,
        gym.plans,
        lambda: gym.radio(now_ns),
        gym.registry,
        host=HOST,
        now_ns=now_ns,
        chance=Random(1),
        clocks=clocks,
    )


def shown(latest: Callable[[], SessionSnapshot | None]) -> LiveWindow:
    """Open the window."""
    window = LiveWindow(latest, Unheard(), ViewSettings(), play=lambda _: None)
    window.resize(1920, 1080)
    window.show()
    return window


def virtual_turns_ms(seconds: float) -> list[float]:
    """Return how long each turn took once the links stood."""

    async def run(loop: TimedLoop) -> None:
        live = session(loop.now_ns, lambda: Clocks(loop.now_ns(), loop.now_ns(), None))
        window = shown(lambda: live.latest)
        pass_over_what_is_there()
        running = asyncio.create_task(live.run())
        while loop.time() < seconds:
            await asyncio.sleep(DRAW_EVERY_S)
            begun_s = time.thread_time()
            window.refresh()
            QApplication.processEvents()
            loop.drawn_s += time.thread_time() - begun_s
            if loop.time() < BEGUN_S:
                del loop.turns_ms[:]
        running.cancel()
        await asyncio.wait({running})
        window.close()

    loop = TimedLoop()
    with asyncio.Runner(loop_factory=lambda: loop) as runner:
        runner.run(run(loop))
    visit_all_again()
    return list(loop.turns_ms)


def real_lateness_ms(seconds: float) -> list[float]:
    """Return how late each call came that was due at a fixed time."""
    start_ns = time.perf_counter_ns()
    late_ms: list[float] = []

    def now_ns() -> int:
        return time.perf_counter_ns() - start_ns

    live = session(now_ns, lambda: read_clocks(now_ns))

    def beat(loop: asyncio.AbstractEventLoop, due_s: float) -> None:
        late_ms.append(1000 * (loop.time() - due_s))
        next_s = max(due_s + BEAT_S, loop.time())
        loop.call_at(next_s, beat, loop, next_s)

    def begin() -> None:
        loop = asyncio.get_running_loop()
        beat(loop, loop.time())

    engine = Engine(live)
    engine.start()
    window = shown(engine.latest)
    pass_over_what_is_there()
    QTimer.singleShot(round(1000 * BEGUN_S), lambda: engine.call(begin))
    QTimer.singleShot(round(1000 * (BEGUN_S + seconds)), QApplication.quit)
    QApplication.exec()
    visit_all_again()
    engine.stop()
    window.close()
    return late_ms


def figures() -> Iterator[Figure]:
    """Measure."""
    yield from told(VIRTUAL_S, REAL_S)


def told(virtual_s: float, real_s: float) -> Iterator[Figure]:
    """Measure for so long."""
    _ = QApplication.instance() or QApplication([])
    turns_ms = virtual_turns_ms(virtual_s)
    what = f"{ATHLETES} athletes, {virtual_s / 3600:g} h on virtual time, turn of the loop"
    beside = f"median {statistics.median(turns_ms):.2f} ms, {len(turns_ms):,} turns"
    yield Figure(f"{what}: longest", max(turns_ms), "ms", LATE_MS, beside=beside)
    yield Figure(f"{what}: 99th percentile", _p99(turns_ms), "ms")
    late_ms = real_lateness_ms(real_s)
    what = f"{ATHLETES} athletes, {real_s:g} s in real time, lateness of the loop"
    beside = f"median {statistics.median(late_ms):.2f}, longest {max(late_ms):.1f} ms"
    yield Figure(f"{what}: 99th percentile", _p99(late_ms), "ms", LATE_MS, beside=beside)


def _p99(values: list[float]) -> float:
    return statistics.quantiles(values, n=100, method="inclusive")[98]


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("--virtual-s", type=float, default=VIRTUAL_S)
    parser.add_argument("--real-s", type=float, default=REAL_S)
    given = parser.parse_args()
    for figure in told(given.virtual_s, given.real_s):
        print(f"{figure.what}: {figure.value:.2f} {figure.unit} ({figure.beside})", flush=True)
