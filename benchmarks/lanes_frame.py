"""What a frame of the Lanes page costs, beside the plain way in the same run.

24 athletes, three curves each, five minutes at 10 Hz, new samples before every frame, 1920 × 1080,
software raster, processor time. The plain way: 24 pyqtgraph PlotWidgets with setData. Invented
data.

QT_QPA_PLATFORM=offscreen taskset -c 1 python benchmarks/lanes_frame.py
"""

import os
import platform
import statistics
import sys
import time

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import numpy as np
import pyqtgraph
from PySide6.QtWidgets import QApplication, QGridLayout, QWidget

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


def told(name: str, frames: list[float]) -> float:
    """Print what the frames cost; return the median."""
    median = statistics.median(frames)
    p99 = statistics.quantiles(frames, n=100)[98]
    say(f"{name:28} median {median:6.2f} ms   p99 {p99:6.2f} ms   ({len(frames)} frames)")
    return median


def say(line: str) -> None:
    """Print one line."""
    sys.stdout.write(line + "\n")


def main() -> None:
    """Measure both ways in one run."""
    application = QApplication.instance() or QApplication([])
    say(f"{platform.platform()}, {os.cpu_count()} cores, Python {platform.python_version()}")
    klass = Class()
    frames, words = ours(application, klass)
    lanes = told("Lanes page", frames)
    told("  of it, words and order", words)
    peer = told("24 PlotWidgets, setData", plain(application, klass))
    say(f"ratio {peer / lanes:.1f}; at 10 frames a second {lanes:.1f} % of one core")


if __name__ == "__main__":
    main()
