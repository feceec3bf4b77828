"""From a notification to changed pixels, and what the whole program costs meanwhile.

24 invented athletes with three sensors each on the simulated radio, live in real time, shown as
lanes on 1920 × 1080, software raster. One athlete's strap is replaced by packets that this file
hands over at random moments; each waits until the strip that shows it has been painted. The
processor time includes the simulated radio, which a real session does not have.

    QT_QPA_PLATFORM=offscreen python -m benchmarks.latency
"""

import os
import statistics
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from random import Random

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QEvent, QObject, QTimer
from PySide6.QtWidgets import QApplication, QWidget

from benchmarks.figure import Figure
from livemon.app.engine import Engine
from livemon.app.gym import HOST, gym_of
from livemon.app.live import Live
from livemon.decode.heart_rate import HEART_RATE_MEASUREMENT
from livemon.events import Notification
from livemon.link.clocks import read_clocks
from livemon.synthetic.sessions import OVER_THE_LINE
from livemon.view.qt.window import LiveWindow
from livemon.view.settings import ViewSettings

ATHLETES = 24
SECONDS = 60.0
P95_MS = 150.0
CORE_PCT = 25.0
STRAP = "1-strap"
NAME = "Lane 1, Lane 1"


class Unheard:
    """Takes what people ask for and leaves it."""

    def __getattr__(self, name: str) -> Callable[..., bool]:
        """Every wish is granted by doing nothing."""
        return lambda *_: True


class Watch(QObject):
    """Sends a packet, waits until the strip shows it, and notes how long that took."""

    def __init__(
        self, live: Live, engine: Engine, strips: list[QWidget], now_ns: Callable[[], int]
    ) -> None:
        super().__init__()
        self._live, self._engine, self._strips, self._now_ns = live, engine, strips, now_ns
        self._chance, self._bpm, self._step, self._sent_s = Random(1), 125, 1, 0.0
        self.delays_ms: list[float] = []
        for strip in strips:
            strip.installEventFilter(self)
        QTimer.singleShot(3000, self.send)

    def send(self) -> None:
        """Hand a packet over in the engine's thread, as Bluetooth does."""
        if not 120 < self._bpm + self._step < 140:
            self._step = -self._step
        self._bpm += self._step  # by one: a jump would have to be believed first

        def arrive() -> None:
            self._sent_s = time.perf_counter()
            packet = bytes((0, self._bpm))
            self._live.emit(Notification(self._now_ns(), STRAP, HEART_RATE_MEASUREMENT, packet))

        self._engine.call(arrive)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Look, after each painting of the strip, whether the number is there."""
        if event.type() is QEvent.Type.Paint and self._sent_s:
            QTimer.singleShot(0, self.painted)
        return False

    def painted(self) -> None:
        """Note the delay if the strip shows the number now."""
        mine = (strip for strip in self._strips if strip.accessibleName() == NAME)
        shown = {line.text for strip in mine for line in strip.written}  # type: ignore[attr-defined] # a LaneStrip
        if self._sent_s and str(self._bpm) in shown:
            self.delays_ms.append(1000 * (time.perf_counter() - self._sent_s))
            self._sent_s = 0.0
            QTimer.singleShot(self._chance.randrange(100, 400), self.send)


def measured() -> tuple[list[float], float]:
    """Return the delays in milliseconds, and the processor time in percent of one core."""
    start_ns = time.perf_counter_ns()

    def now_ns() -> int:
        return time.perf_counter_ns() - start_ns

    gym = gym_of(OVER_THE_LINE, ATHLETES, seed=1)
    silent = tuple(pair for pair in gym.sensors if pair[0] != STRAP)
    gym = replace(gym, sensors=silent, plans=tuple(p for p in gym.plans if p.sensor != STRAP))
    live = Live(
        gym.head,
        gym.plans,
        lambda: gym.radio(now_ns),
        gym.registry,
        host=HOST,
        now_ns=now_ns,
        chance=Random(1),
        clocks=lambda: read_clocks(now_ns),
    )
    application = QApplication.instance() or QApplication([])
    engine = Engine(live)
    engine.start()
    window = LiveWindow(engine.latest, Unheard(), ViewSettings(), play=lambda _: None)
    window.resize(1920, 1080)
    window.show()
    window.refresh()
    strips = [w for w in window.findChildren(QWidget) if w.accessibleName().startswith("Lane ")]
    watch = Watch(live, engine, strips, now_ns)
    used_s: list[float] = []
    QTimer.singleShot(5000, lambda: used_s.append(time.process_time()))
    QTimer.singleShot(round(1000 * (SECONDS + 5)), application.quit)
    application.exec()
    core_pct = 100 * (time.process_time() - used_s[0]) / SECONDS
    engine.stop()
    window.close()
    return watch.delays_ms, core_pct


def figures() -> Iterator[Figure]:
    """Measure."""
    delays_ms, core_pct = measured()
    cuts = statistics.quantiles(delays_ms, n=20)
    what = f"{ATHLETES} athletes live, notification to changed pixels"
    yield Figure(f"{what}: median", statistics.median(delays_ms), "ms")
    yield Figure(
        f"{what}: 95th percentile", cuts[18], "ms", P95_MS, beside=f"{len(delays_ms)} packets"
    )
    yield Figure("the same, whole process", core_pct, "% of one core", CORE_PCT)


if __name__ == "__main__":
    for figure in figures():
        print(f"{figure.what}: {figure.value:.1f} {figure.unit} ({figure.beside or 'no limit'})")
