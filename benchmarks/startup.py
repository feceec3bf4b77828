"""How long people wait: for `--help`, and for the demo's first pixels.

`python -m benchmarks.startup` starts whole processes and prints medians.
"""

import os
import subprocess
import sys
import time
from collections.abc import Iterator

from benchmarks.figure import Figure, median_of

RUNS = 7
HELP_MS, DEMO_S = 150.0, 1.5
DEAREST, IMPORT_RUNS = 10, 5
#: What only those may wait for who use it.
HEAVY = ("numpy", "PySide6", "bleak", "aiomqtt", "pyqtgraph", "scipy")

_HELP = "import sys; from livemon.app.cli import main; sys.exit(main(['--help']))"
# Ends as soon as the window has been painted for the first time.
_DEMO = """
import sys, time
from PySide6.QtWidgets import QApplication
import livemon.view.qt.application as application
from livemon.app.cli import main

run_window = application.run_window

def painted(window):
    QApplication.processEvents()
    print(time.time())
    window.close()

application.run_window = lambda *args, **named: run_window(*args, shown=painted, **named)
sys.exit(main(['demo']))
"""


def seconds_for_help() -> float:
    """Start `livemon --help`; return the time until it has ended."""
    begun_s = time.perf_counter()
    subprocess.run([sys.executable, "-c", _HELP], check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - begun_s


def seconds_to_pixels() -> float:
    """Start the demo; return the time until its window has been painted."""
    begun_s = time.time()
    done = subprocess.run(
        [sys.executable, "-c", _DEMO],
        check=True,
        capture_output=True,
        text=True,
        env=os.environ | {"QT_QPA_PLATFORM": "offscreen"},
    )
    return float(done.stdout.split()[0]) - begun_s


def imported(script: str) -> list[tuple[str, float]]:
    """Return modules and the milliseconds that each took by itself, the dearest first.

    The least of several runs: whatever else ran at that moment only ever adds.
    """
    runs = [dict(_traced(script)) for _ in range(IMPORT_RUNS)]
    least = {name: min(run.get(name, ms) for run in runs) for name, ms in runs[0].items()}
    return sorted(least.items(), key=lambda one: -one[1])


def _traced(script: str) -> Iterator[tuple[str, float]]:
    done = subprocess.run(
        [sys.executable, "-X", "importtime", "-c", script],
        check=True,
        capture_output=True,
        text=True,
        env=os.environ | {"QT_QPA_PLATFORM": "offscreen"},
    )
    rows = (line[12:].split("|") for line in done.stderr.splitlines() if "|" in line)
    yield from ((row[2].strip(), int(row[0]) / 1000) for row in rows if row[0].strip().isdigit())


def imports(what: str, script: str, allowed: tuple[str, ...]) -> Iterator[Figure]:
    """Tell the dearest modules, and how many heavy libraries came along that need not."""
    taken = imported(script)
    roots = {name.partition(".")[0] for name, _ in taken}
    unasked = [one for one in HEAVY if one in roots and one not in allowed]
    yield Figure(
        f"{what}: libraries imported for nothing",
        len(unasked),
        "",
        0.0,
        beside=", ".join(unasked)
        or f"none of {', '.join(one for one in HEAVY if one not in allowed)}",
    )
    for place, (name, ms) in enumerate(taken[:DEAREST], start=1):
        yield Figure(
            f"{what}: import number {place} by time, `{name}`", ms, "ms",
            beside=f"of {sum(ms for _, ms in taken):.0f} ms for {len(taken)} modules"
            if place == 1 else "",
        )  # fmt: skip


def figures() -> Iterator[Figure]:
    """Measure both."""
    # Under the tracing itself everything is slower; what counts is the order.
    yield from imports("--help", _HELP, allowed=())
    yield from imports("demo", _DEMO, allowed=("numpy", "PySide6"))
    for what, wait_s, unit, most in (
        ("livemon --help", seconds_for_help, "ms", HELP_MS),
        ("livemon demo to its first pixels", seconds_to_pixels, "s", DEMO_S),
    ):
        used_s = _processor_s()
        taken = median_of(wait_s, RUNS)
        used_s = (_processor_s() - used_s) / RUNS
        factor = 1000 if unit == "ms" else 1
        beside = f"{factor * used_s:.3g} {unit} of processor time, to the end of the program"
        yield Figure(what, factor * taken, unit, most, beside=beside)


def _processor_s() -> float:
    """Return what ended child processes used so far; a busy machine adds little to it."""
    used = os.times()
    return used.children_user + used.children_system


if __name__ == "__main__":
    for figure in figures():
        print(f"{figure.what}: {figure.value:.3g} {figure.unit} (median of {RUNS})")
