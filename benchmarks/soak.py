"""Hours of a class of 24 on virtual time, with faults of all kinds: is anything lost, leaked, late?

    python -m benchmarks.soak --hours 8

What happens is in soak_class.py, what goes wrong in soak_faults.py, what is watched in
soak_watch.py. Lateness is processor time, so that other programs don't count: the longest turn of
the engine's loop, which here also moves the invented sensors, the relay, the broker and the hub.
"""

import argparse
import asyncio
import gc
import os
import statistics
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtWidgets import QApplication

from benchmarks.figure import Figure
from benchmarks.soak_class import Outcome, Soak, TurnsLoop

ATHLETES = 24
SHORT_H, LONG_H = 0.5, 8.0
WARM_SHARE = 0.4  # charts, trails and caches are full by then
DRAW_EVERY = 4  # every two seconds of session time: half of the run's time would else be drawing
SLOPE_MB_PER_H, LATE_MS = 1.0, 50.0


def soaked(athletes: int, seconds: float, draw_every: int = DRAW_EVERY) -> Outcome:
    """Run it once."""
    _ = QApplication.instance() or QApplication([])
    with TemporaryDirectory(prefix="livemon-soak-") as name:
        soak = Soak(Path(name), athletes=athletes, seconds=seconds, draw_every=draw_every)
        gc.collect()
        gc.freeze()  # the invented packets, hundreds of thousands that no real session holds
        with asyncio.Runner(loop_factory=TurnsLoop) as runner:
            return runner.run(soak.run())


def figures() -> Iterator[Figure]:
    """Run it once, for a short while."""
    return told(SHORT_H)


def long_figures() -> Iterator[Figure]:
    """Run it once, for as long as a day in a gym."""
    return told(LONG_H)


def told(hours: float) -> Iterator[Figure]:
    """Run it for so many hours and tell."""
    out = soaked(ATHLETES, 3600 * hours)
    what = f"{ATHLETES} athletes, {hours:g} h, {out.faults} faults"
    beside = f"{out.delivered:,} packets delivered; {out.refused_writes} writes refused"
    yield Figure(f"{what}: packets lost or doubled", out.lost, "", 0.0, beside=beside)
    yield Figure("sensors whose packets differ in anything", out.sensors_differ, "", 0.0)
    yield Figure("sensors whose packets differ in the hub's copy", out.copy_differs, "", 0.0)
    yield Figure("numbers of somebody else in a lane", out.strangers, "", 0.0,
                 beside=f"{out.frames // DRAW_EVERY:,} frames of {ATHLETES} lanes")  # fmt: skip
    warm = [one for one in out.held if one.t_s >= WARM_SHARE * hours * 3600]
    slope, _ = statistics.linear_regression(
        [one.t_s / 3600 for one in warm], [one.memory_mb for one in warm]
    )
    beside = f"{warm[0].memory_mb:.0f} MB warm, {warm[-1].memory_mb:.0f} MB at the end"
    # Half an hour is too short for a slope: what is kept of the last minutes still fills.
    yield Figure("growth once warm", slope, "MB/h", SLOPE_MB_PER_H if hours >= 2 else None,
                 beside=beside)  # fmt: skip
    for kind, first, last in (
        ("open files", min(one.files for one in warm), warm[-1].files),
        ("tasks", statistics.median(one.tasks for one in warm), warm[-1].tasks),
        ("widgets and items", warm[0].widgets, warm[-1].widgets),
    ):
        yield Figure(f"{kind} more at the end than when warm", last - first, "", 2.0,
                     beside=f"{first:.0f} and {last}")  # fmt: skip
    yield Figure("longest turn of the loop", out.turn_ms, "ms", LATE_MS,
                 beside=f"longest collection {out.pause_ms:.0f} ms")  # fmt: skip
    yield Figure("processor time of all that", out.took_s, "s")


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--hours", type=float, default=LONG_H)
    for figure in told(parser.parse_args().hours):
        print(
            f"{figure.what}: {figure.value:.2f} {figure.unit} ({figure.beside or '-'})", flush=True
        )
