"""Measure everything: `python -m benchmarks` prints each figure beside its limit and its peer.

    python -m benchmarks                     all parts (about 15 minutes), docs/performance.md anew
    python -m benchmarks throughput memory   these parts only; prints, writes nothing
    python -m benchmarks --list              which parts there are

Each part runs in a process of its own, so that one part's memory or imports don't weigh on another.
The exit code is 1 if a figure is past its limit.
"""

import argparse
import os
import platform
import subprocess
import sys
from importlib import import_module
from importlib.metadata import version
from pathlib import Path
from typing import Final

from benchmarks.figure import Figure, from_json, table

#: Part and what it measures. Each is a module of this folder with a function `figures()`.
PARTS: Final = {
    "throughput": "from bytes to snapshots",
    "growth": "how cost grows with athletes and hours",
    "estimate": "estimate and warning, a sample",
    "rolling": "the trend beside pandas and polars",
    "replay": "a recording again, as fast as it goes",
    "memory": "a class of 24, three hours long",
    "open_class": "a class of 24, opened on the Bouts page",
    "analyse": "the analysis of a class",
    "export": "a class as files for other programs",
    "startup": "what people wait for",
    "lanes_frame": "drawing a class of 24",
    "latency": "a class of 24, live and on the screen",
    "class_hour": "a class that paces well",
    "soak": "two hours of a class of 24 with faults, drawn all the while",
}

_PAGE: Final = Path(__file__).parents[1] / "docs" / "performance.md"
_MEASURED: Final = "## Measured"
_LIBRARIES: Final = ("numpy", "PySide6-Essentials", "pyqtgraph", "bleak", "aiomqtt")


def main() -> int:
    """Run the wished parts; return the exit code."""
    parser = argparse.ArgumentParser(prog="python -m benchmarks", description=__doc__)
    parser.add_argument("parts", nargs="*", choices=[*PARTS, []], metavar="PART")
    parser.add_argument("--list", action="store_true", help="list the parts")
    parser.add_argument("--inside", help=argparse.SUPPRESS)
    wished = parser.parse_args()
    if wished.list:
        sys.stdout.writelines(f"{part:<12} {what}\n" for part, what in PARTS.items())
        return 0
    if wished.inside:
        return _inside(wished.inside)
    measured = {part: _measured(part) for part in wished.parts or PARTS}
    if not wished.parts:
        _write(measured)
    return int(any(not one.holds for figures in measured.values() for one in figures))


def _inside(part: str) -> int:
    """Measure one part in this process; print each figure as a line of JSON."""
    for figure in import_module(f"benchmarks.{part}").figures():
        print(figure.to_json(), flush=True)
    return 0


def _measured(part: str) -> tuple[Figure, ...]:
    """Measure one part in a process of its own; show its table."""
    command = [sys.executable, "-m", "benchmarks", "--inside", part]
    done = subprocess.run(
        command,
        check=True,
        stdout=subprocess.PIPE,
        text=True,
        env=os.environ | {"QT_QPA_PLATFORM": "offscreen"},
    )
    figures = tuple(map(from_json, done.stdout.splitlines()))
    print(f"\n### {PARTS[part].capitalize()}\n\n{table(figures)}", flush=True)
    return figures


def _write(measured: dict[str, tuple[Figure, ...]]) -> None:
    """Put the tables in the place of the old ones in docs/performance.md."""
    before = _PAGE.read_text("utf-8").partition(_MEASURED)[0]
    libraries = ", ".join(f"{name} {version(name)}" for name in _LIBRARIES)
    machine = (
        f"{platform.platform()}, {platform.machine()}, {os.cpu_count()} cores, "
        f"Python {platform.python_version()}, {libraries}."
    )
    tables = "\n\n".join(
        f"### {PARTS[part].capitalize()}\n\n{table(figures)}" for part, figures in measured.items()
    )
    _PAGE.write_text(f"{before}{_MEASURED}\n\n{machine}\n\n{tables}\n", "utf-8")


if __name__ == "__main__":
    raise SystemExit(main())
