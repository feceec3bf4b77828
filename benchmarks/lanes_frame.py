"""What a frame of the Lanes page costs, beside the plain way in the same run.

24 athletes, three curves each, five minutes at 10 Hz, new samples before every frame, 1920 × 1080,
software raster, processor time. The plain way: 24 pyqtgraph PlotWidgets with setData. Invented
data.

QT_QPA_PLATFORM=offscreen taskset -c 1 python -m benchmarks.lanes_frame
"""

import os
import statistics
import time
from collections.abc import Iterator

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import numpy as np
import pyqtgraph
from PySide6.QtWidgets import QApplication, QGridLayout, QWidget

from benchmarks.figure import Figure
from livemon.estimate.balance import Balance
from livemon.estimate.steadiness import Steadiness
from livemon.estimate.trend import Trend
from livemon.monitor.snapshot import (
    AthleteSnapshot,
    BoutState,
    HeartRateState,
    LaneState,
    SessionSnapshot,
    SiteState,
    Trust,
)
from livemon.series.ring import Ring, Trail
from livemon.view.class_view import ClassView
from livemon.view.qt.lanes import LanesPage
from livemon.view.qt.lettering import Lettering
from livemon.view.qt.look import Look
from livemon.view.settings import ViewSettings
from livemon.view.theme import DARK

ATHLETES, CURVES, HZ, WINDOW_S, FRAMES = 24, 3, 10, 300, 300
SITES = ("left thigh", "right thigh", "right forearm")
KEEP = HZ * WINDOW_S
MEDIAN_MS, P99_MS, RATIO = 8.0, 16.0, 3.0


class Class:
    """Rings that take one more sample before each frame."""

    def __init__(self) -> None:
        self.rings = [[Ring(KEEP + 64) for _ in range(CURVES)] for _ in range(ATHLETES)]
        self.rates = [Ring(KEEP + 64) for _ in range(ATHLETES)]
        self.noise = np.random.default_rng(1).normal(0, 0.5, 100_000)
        self.step = 0
        for _ in range(KEEP):
            self.advance()

    def advance(self) -> None:
        """Let a tenth of a second pass."""
        self.step += 1
        t_ns = self.step * 1_000_000_000 // HZ
        for a, rings in enumerate(self.rings):
            self.rates[a].append(t_ns, 150 + 8 * np.sin(self.step / 90 + a))
            for c, ring in enumerate(rings):
                wave = 55 + 9 * np.sin(self.step / 300 + a + 2 * c)
                ring.append(t_ns, wave + self.noise[(self.step * 7 + a * 31 + c) % 100_000])

    def snapshot(self) -> SessionSnapshot:
        """Return everybody, now."""
        t_s = self.step / HZ
        lanes = tuple(self.lane(a, t_s) for a in range(ATHLETES))
        return SessionSnapshot(t_s, "", lanes, (), False)

    def lane(self, a: int, t_s: float) -> LaneState:
        """Return one invented athlete, now."""
        bpm = 150 + 8 * np.sin(self.step / 90 + a)
        rate = HeartRateState(
            float(bpm), 0.4, Trust.GOOD, True, Steadiness.STEADY, 60.0, 0.2,
            Trail(self.rates[a], self.rates[a].count, KEEP),
        )  # fmt: skip
        trend = Trend(0.4 * np.sin(self.step / 50 + a), -0.6, 0.9)
        sites = tuple(
            SiteState(
                SITES[c], float(55 + 9 * np.sin(self.step / 300 + a + 2 * c)), None, 0.1,
                Trust.GOOD, trend, Balance.IN_BALANCE, 68.0, None, None, None, None,
                Trail(ring, ring.count, KEEP),
            )
            for c, ring in enumerate(self.rings[a])
        )  # fmt: skip
        bout = BoutState(1, "carry", False, 0.0, 300.0)
        state = AthleteSnapshot(t_s, rate, sites, ())
        return LaneState(f"a{a}", f"Lane {a + 1}", (140, 160), state, bout, (), (), ())


def ours(application: QApplication, klass: Class) -> tuple[list[float], list[float]]:
    """Return milliseconds of processor time of each frame, and of wording alone."""
    page = LanesPage(Look(DARK, Lettering(), True))
    page.resize(1920, 1080)
    page.show()
    view = ClassView(ViewSettings(window_s=WINDOW_S))
    frames, words = [], []
    for _ in range(FRAMES):
        klass.advance()
        snapshot = klass.snapshot()
        begun = time.process_time()
        model = view.model(snapshot, ())
        worded = time.process_time()
        page.show_model(model, None, snapshot.t_s)
        application.processEvents()
        frames.append((time.process_time() - begun) * 1000)
        words.append((worded - begun) * 1000)
    page.close()
    return frames[20:], words[20:]


def plain(application: QApplication, klass: Class) -> list[float]:
    """Return milliseconds of each frame of 24 PlotWidgets with setData."""
    page = QWidget()
    grid = QGridLayout(page)
    curves = []
    for a in range(ATHLETES):
        plot = pyqtgraph.PlotWidget()
        plot.setYRange(20, 90)
        grid.addWidget(plot, a // 4, a % 4)
        curves.append([plot.plot(pen=c) for c in range(CURVES)])
    page.resize(1920, 1080)
    page.show()
    frames = []
    for _ in range(60):
        klass.advance()
        begun = time.process_time()
        for items, rings in zip(curves, klass.rings, strict=True):
            for item, ring in zip(items, rings, strict=True):
                t_ns, values = ring.last(KEEP)
                item.setData(t_ns / 1e9, values)
        application.processEvents()
        frames.append((time.process_time() - begun) * 1000)
    page.close()
    return frames[5:]


def p99(frames: list[float]) -> float:
    """Return what one frame in a hundred exceeds."""
    return statistics.quantiles(frames, n=100)[98]


def figures() -> Iterator[Figure]:
    """Measure both ways in one run."""
    application = QApplication.instance() or QApplication([])
    klass = Class()
    frames, words = ours(application, klass)
    peer = statistics.median(plain(application, klass))
    median = statistics.median(frames)
    what = f"a frame of {ATHLETES} lanes, {CURVES} curves, {WINDOW_S // 60} min at {HZ} Hz"
    plainly = f"{ATHLETES} PlotWidgets with setData: {peer:.1f} ms"
    yield Figure(f"{what}: median", median, "ms", MEDIAN_MS, beside=plainly)
    yield Figure(
        f"{what}: 99th percentile", p99(frames), "ms", P99_MS, beside=f"{len(frames)} frames"
    )
    yield Figure("of it, words and order: median", statistics.median(words), "ms")
    yield Figure("times cheaper than the plain way", peer / median, "", at_least=RATIO)


if __name__ == "__main__":
    for figure in figures():
        print(f"{figure.what}: {figure.value:.2f} {figure.unit} ({figure.beside or '-'})")
