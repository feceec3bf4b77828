"""Two hours of a class of 24 on virtual time, with faults at random, drawn all the while.

The whole way is taken: simulated radio, links that drop and come back, core, window. Told is how
memory grows once everything is warm, how long the collector ever held everything up (in processor
time, so that other programs don't count), and whether frames leave widgets behind. Lateness on
virtual time is nothing but such pauses.

    QT_QPA_PLATFORM=offscreen python -m benchmarks.soak --hours 2
"""

import argparse
import asyncio
import gc
import os
import statistics
import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from random import Random

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QApplication

from benchmarks.figure import Figure
from benchmarks.latency import Unheard
from livemon.app.gym import HOST, Mishap, gym_of
from livemon.app.live import Live
from livemon.link.clocks import Clocks
from livemon.link.simulated.faults import Fault
from livemon.link.simulated.virtual_loop import VirtualTimeLoop, run_virtually
from livemon.monitor.session import Session
from livemon.monitor.snapshot import SessionSnapshot
from livemon.synthetic.sessions import OVER_THE_LINE
from livemon.view.qt.window import LiveWindow
from livemon.view.settings import ViewSettings

ATHLETES = 24
HOURS = 2.0
WARM_SHARE = 0.4  # charts, trails and caches are full by then
FAULTS_PER_H = 100
SLOPE_MB_PER_H, PAUSE_MS = 1.0, 50.0


def resident_mb() -> float:
    """Return what the process holds now; Linux only."""
    pages = int(Path("/proc/self/statm").read_text().split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") / 2**20


class Pauses:
    """Notes how long each collection took."""

    def __init__(self) -> None:
        self.longest_ms, self.count, self._began_s = 0.0, 0, 0.0
        gc.callbacks.append(self._collected)

    def _collected(self, phase: str, _: dict[str, int]) -> None:
        if phase == "start":
            self._began_s = time.thread_time()
            return
        self.count += 1
        self.longest_ms = max(self.longest_ms, 1000 * (time.thread_time() - self._began_s))


def mishaps(sensors: list[str], seconds: float) -> tuple[Mishap, ...]:
    """Return faults of all kinds at random times, the same on every run."""
    chance, kinds = Random(7), list(Fault)
    count = round(FAULTS_PER_H * seconds / 3600)
    return tuple(
        Mishap(
            chance.choice(kinds),
            chance.choice(sensors),
            chance.uniform(10, seconds - 60),
            chance.uniform(2, 40),
        )
        for _ in range(count)
    )


def figures(hours: float = HOURS) -> Iterator[Figure]:
    """Run it once and tell."""
    seconds = 3600 * hours
    rounds = 1 + int(seconds / sum(phase.seconds for phase in OVER_THE_LINE.phases))
    training = replace(OVER_THE_LINE, phases=OVER_THE_LINE.phases * rounds)
    sensors = [sensor for sensor, _ in gym_of(OVER_THE_LINE, ATHLETES, seed=1).sensors]
    gym = gym_of(training, ATHLETES, 1, mishaps(sensors, seconds))
    application = QApplication.instance() or QApplication([])
    newest: list[SessionSnapshot] = []
    window = LiveWindow(
        lambda: newest[-1] if newest else None, Unheard(), ViewSettings(), play=lambda _: None
    )
    window.resize(1920, 1080)
    window.show()
    frames, samples, objects = 0, [], []

    def draw(session: Session) -> None:
        nonlocal frames
        newest[:] = [session.snapshot()]
        window.refresh()
        application.processEvents()
        frames += 1
        if frames % 240 == 0:
            samples.append((newest[0].t_s / 3600, resident_mb()))
            objects.append(len(window.findChildren(QObject)))

    async def run() -> None:
        loop = asyncio.get_running_loop()
        assert isinstance(loop, VirtualTimeLoop)
        live = Live(
            gym.head,
            gym.plans,
            lambda: gym.radio(loop.now_ns),
            gym.registry,
            host=HOST,
            now_ns=loop.now_ns,
            chance=Random(5),
            clocks=lambda: Clocks(loop.now_ns(), loop.now_ns(), None),
            each_tick=draw,
        )
        task = asyncio.create_task(live.run())
        await asyncio.wait({task}, timeout=seconds)
        task.cancel()
        await asyncio.wait({task})

    gc.collect()
    gc.freeze()  # the invented packets, a million objects that no real session holds
    pauses = Pauses()
    run_virtually(run())
    window.close()
    warm = [sample for sample in samples if sample[0] >= WARM_SHARE * hours]
    slope, _ = statistics.linear_regression(*zip(*warm, strict=True))
    what = f"{ATHLETES} athletes, {hours:g} h, {len(gym.mishaps)} faults"
    yield Figure(
        f"{what}: growth once warm", slope, "MB/h", SLOPE_MB_PER_H, beside=f"{frames} frames"
    )
    yield Figure(
        "the same: longest pause of the collector", pauses.longest_ms, "ms", PAUSE_MS,
        beside=f"{pauses.count} collections",
    )  # fmt: skip
    left = objects[-1] - objects[len(objects) // 2]
    yield Figure("the same: widgets and items left behind by the second half", left, "", 0.0)


if __name__ == "__main__":
    parser = argparse.ArgumentParser()
    parser.add_argument("--hours", type=float, default=HOURS)
    for figure in figures(parser.parse_args().hours):
        print(
            f"{figure.what}: {figure.value:.2f} {figure.unit} ({figure.beside or '-'})", flush=True
        )
