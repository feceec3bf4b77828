"""How long people wait: for `--help`, and for the demo's first pixels.

`python -m benchmarks.startup` starts whole processes and prints medians. The limits are 150 ms
for the help and 2 s for the window.
"""

import os
import statistics
import subprocess
import sys
import time

RUNS = 7

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


def main() -> None:
    """Print the figures."""
    helped = [seconds_for_help() for _ in range(RUNS)]
    seen = [seconds_to_pixels() for _ in range(RUNS)]
    sys.stdout.write(
        f"livemon --help: {1000 * statistics.median(helped):.0f} ms (median of {RUNS})\n"
        f"livemon demo to its first pixels: {statistics.median(seen):.2f} s (median of {RUNS})\n"
    )


if __name__ == "__main__":
    main()
