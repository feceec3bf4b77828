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
HELP_MS, DEMO_S = 150.0, 2.0

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


def figures() -> Iterator[Figure]:
    """Measure both."""
    helped = median_of(seconds_for_help, RUNS)
    yield Figure("livemon --help", 1000 * helped, "ms", HELP_MS)
    yield Figure(
        "livemon demo to its first pixels", median_of(seconds_to_pixels, RUNS), "s", DEMO_S
    )


if __name__ == "__main__":
    for figure in figures():
        print(f"{figure.what}: {figure.value:.3g} {figure.unit} (median of {RUNS})")
