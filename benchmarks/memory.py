"""What a class of 24 takes in memory over three hours, without and with the window.

A recording is played from the file as fast as it goes; the window is shown offscreen and drawn all
the while. Resident memory of the whole process, after the first hour and at the end.
"""

import resource
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

from benchmarks.crowd import crowd_events, crowd_head
from benchmarks.figure import Figure
from benchmarks.latency import Unheard
from livemon.monitor.session import Session
from livemon.monitor.snapshot import SessionSnapshot
from livemon.record.head import encode_head
from livemon.record.lines import encode_event
from livemon.record.reader import open_recording

ATHLETES = 24
HOURS = 3.0
RATE_HZ = 4.0
HEADLESS_MB, WINDOW_MB, GROWTH_MB_PER_H = 120.0, 400.0, 5.0
DRAW_EVERY_TICKS = 20  # ten seconds of session time


def write_class(path: Path) -> None:
    """Write the recording."""
    seconds = HOURS * 3600
    with path.open("w", encoding="utf-8") as file:
        file.write(encode_head(crowd_head(ATHLETES, seconds, RATE_HZ)) + "\n")
        for event in crowd_events(ATHLETES, seconds, RATE_HZ):
            file.write(encode_event(event) + "\n")


def peak_mb() -> float:
    """Return the most memory that this process has held so far, in MB.

    Linux counts what the parent held before exec into getrusage's figure, so it is read elsewhere.
    """
    status = Path("/proc/self/status")
    if status.exists():
        line = next(line for line in status.read_text().splitlines() if line.startswith("VmHWM"))
        return int(line.split()[1]) / 2**10
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return peak / (2**20 if sys.platform == "darwin" else 2**10)


def play(path: Path, look: Callable[[SessionSnapshot], None]) -> tuple[float, float]:
    """Play the recording; return the peak after one hour and at the end, in MB."""
    recording = open_recording(path)
    ticks = 0

    def each_tick(session: Session) -> None:
        nonlocal ticks
        ticks += 1
        if ticks % DRAW_EVERY_TICKS == 0:
            look(session.snapshot())

    session = Session(recording.head, each_tick=each_tick)
    after_an_hour: float | None = None
    for event in recording.events():
        session.feed(event)
        if after_an_hour is None and event.t_ns > 3600e9:
            after_an_hour = peak_mb()
    return after_an_hour or peak_mb(), peak_mb()


def play_in_window(path: Path) -> tuple[float, float]:
    """Play the recording into the window."""
    from PySide6.QtWidgets import QApplication

    from livemon.view.qt.window import LiveWindow
    from livemon.view.settings import ViewSettings

    application = QApplication([])
    newest: list[SessionSnapshot | None] = [None]
    window = LiveWindow(lambda: newest[0], Unheard(), ViewSettings(), play=lambda _: None)
    window.resize(1920, 1080)
    window.show()

    def look(snapshot: SessionSnapshot) -> None:
        newest[0] = snapshot
        window.refresh()
        application.processEvents()

    peaks = play(path, look)
    window.close()
    return peaks


def figures() -> Iterator[Figure]:
    """Measure each way in a process of its own, so that one's peak is not the other's."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "class.jsonl"
        write_class(path)
        for how, most_mb in (("headless", HEADLESS_MB), ("window", WINDOW_MB)):
            done = subprocess.run(
                [sys.executable, "-m", "benchmarks.memory", how, str(path)],
                check=True,
                capture_output=True,
                text=True,
            )
            hour_mb, end_mb = map(float, done.stdout.split())
            what = f"{ATHLETES} athletes, {HOURS:g} h, {how}"
            yield Figure(f"{what}: peak memory", end_mb, "MB", at_most=most_mb)
            growth = (end_mb - hour_mb) / (HOURS - 1)
            yield Figure(f"{what}: growth after the first hour", growth, "MB/h", GROWTH_MB_PER_H)


if __name__ == "__main__":
    how, path = sys.argv[1], Path(sys.argv[2])
    print(*(play_in_window(path) if how == "window" else play(path, lambda _: None)))
