"""How often a well-paced class calls its coach: 24 invented athletes, an hour, several seeds.

    python -m benchmarks.class_hour --seeds 3

At most six warnings an hour are promised for the whole class. Counted is what the coach meets: a
caution or drain that begins to call, after floods have been calmed. Nobody in this class drains.
"""

import argparse
import sys
import time
from collections.abc import Iterator
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "view"))
from paced_class import class_events, class_head

from benchmarks.figure import Figure
from livemon.monitor.session import Session
from livemon.view.conduct import NOTHING_YET, observe
from livemon.view.conduct_words import log_rows
from livemon.warn.priority import Priority

PROMISED_PER_H = 6.0


def watched(athletes: int, seconds: float, seed: int) -> tuple[int, int, bool, list[str]]:
    """Return how many cautions and drains began to call, whether it flooded, and the log."""
    conduct, floods, calls = NOTHING_YET, False, dict.fromkeys(Priority, 0)
    known: set[tuple[str, str, float, Priority]] = set()

    def tick(session: Session) -> None:
        nonlocal conduct, floods
        snapshot = session.snapshot()
        conduct = observe(conduct, snapshot.lanes, snapshot.t_s)
        floods |= conduct.flood.on
        for signal in conduct.signals:
            key = (signal.athlete, signal.site, signal.on_s, signal.priority)
            if key not in known and conduct.calls(signal.athlete):
                known.add(key)
                calls[signal.priority] += 1

    session = Session(class_head(athletes), each_tick=tick)
    for event in class_events(athletes, seconds, seed):
        session.feed(event)
    log = [f"  {what}: {how}" for what, how in log_rows(conduct, {})]
    return calls[Priority.CAUTION], calls[Priority.DRAIN], floods, log


def figures() -> Iterator[Figure]:
    """Measure one hour of three classes."""
    counts = [watched(24, 3600.0, seed) for seed in (1, 2, 3)]
    rate = sum(cautions + drains for cautions, drains, _, _ in counts) / len(counts)
    yield Figure("well-paced class of 24: warnings", rate, "an hour", PROMISED_PER_H)


def main() -> None:
    """Measure."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--athletes", type=int, default=24)
    parser.add_argument("--minutes", type=float, default=60)
    parser.add_argument("--seeds", type=int, default=3)
    asked = parser.parse_args()
    total = 0
    for seed in range(1, asked.seeds + 1):
        begun_s = time.process_time()
        cautions, drains, floods, log = watched(asked.athletes, asked.minutes * 60, seed)
        total += cautions + drains
        print(*log, sep="\n")
        print(
            f"seed {seed}: {cautions} cautions, {drains} drains in {asked.minutes:g} min"
            f"{', flooded' if floods else ''} ({time.process_time() - begun_s:.0f} s)"
        )
    rate = total / (asked.seeds * asked.minutes / 60)
    print(f"{rate:.1f} warnings an hour for {asked.athletes} athletes; promised {PROMISED_PER_H:g}")


if __name__ == "__main__":
    main()
