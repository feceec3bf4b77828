"""Measure everything: `python -m benchmarks` prints each figure beside its limit and its peer.

    python -m benchmarks                     all parts (about 15 minutes), docs/performance.md anew
    python -m benchmarks throughput memory   these parts only; prints, writes nothing
    python -m benchmarks soak --long --write the whole length, and into the page
    python -m benchmarks --list              which parts there are

Each part runs in a process of its own, so that one part's memory or imports don't weigh on another.
The exit code is 1 if a figure is past its limit.
"""

import argparse
import os
import subprocess
import sys
from importlib import import_module
from typing import Final

from benchmarks.figure import Figure, from_json
from benchmarks.page import draw, load, section, write

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
    "loop": "how late the loop that reads the sensors gets",
    "class_hour": "a class that paces well",
    "record": "recordings: speed, kills, a full disk, a class",
    "fake_bluez": "thirty sensors at 10 Hz through the system's own way",
    "relay": "eight relays, through Mosquitto",
    "relay_share": "eight relays, through the hub's own broker",
    "soak": "a class of 24 with faults of all kinds, drawn all the while",
}


def main() -> int:
    """Run the wished parts; return the exit code."""
    parser = argparse.ArgumentParser(prog="python -m benchmarks", description=__doc__)
    parser.add_argument("parts", nargs="*", choices=[*PARTS, []], metavar="PART")
    parser.add_argument("--list", action="store_true", help="list the parts")
    parser.add_argument("--long", action="store_true", help="long parts at their whole length")
    parser.add_argument("--write", action="store_true", help="put these parts into the page, too")
    parser.add_argument("--inside", help=argparse.SUPPRESS)
    wished = parser.parse_args()
    if wished.list:
        sys.stdout.writelines(f"{part:<12} {what}\n" for part, what in PARTS.items())
        return 0
    if wished.inside:
        return _inside(wished.inside, wished.long)
    to_page = wished.write or not wished.parts
    measured = [_measured(part, wished.long, to_page) for part in wished.parts or PARTS]
    return int(not all(measured))


def _inside(part: str, long: bool) -> int:
    """Measure one part in this process; print each figure as a line of JSON."""
    module = import_module(f"benchmarks.{part}")
    figures = getattr(module, "long_figures", module.figures) if long else module.figures
    for figure in figures():
        print(figure.to_json(), flush=True)
    return 0


def _measured(part: str, long: bool, to_page: bool) -> bool:
    """Measure one part in a process of its own, show its table; return whether it all holds."""
    begun = load()
    command = [sys.executable, "-m", "benchmarks", "--inside", part, *(["--long"] if long else [])]
    done = subprocess.run(
        command,
        check=False,
        stdout=subprocess.PIPE,
        text=True,
        env=os.environ | {"QT_QPA_PLATFORM": "offscreen"},
    )
    figures = tuple(map(from_json, done.stdout.splitlines()))
    if done.returncode:
        # One part that can't run here, for want of a broker perhaps, keeps no other from it.
        figures += (Figure("ended with an error", 1.0, "", at_most=0.0),)
    name = _title(part)
    shown = section(name, figures, (begun, load()))
    print(f"\n{shown}", flush=True)
    if to_page:
        write({name: shown}, tuple(map(_title, PARTS)))
        draw(figures)
    return all(one.holds for one in figures)


def _title(part: str) -> str:
    """Return the heading of a part."""
    return PARTS[part][0].upper() + PARTS[part][1:]


if __name__ == "__main__":
    raise SystemExit(main())
