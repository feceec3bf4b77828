"""How fast a recording replays, and whether memory stays flat: `python -m benchmarks.replay`.

One hour, one athlete, a strap at 1 Hz and two oximeters at 4 Hz, from the file to the snapshot of
every tick, in one process. The floor is the same file read and parsed and nothing else.
"""

import resource
import statistics
import sys
import tempfile
import time
from collections import deque
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from benchmarks.figure import Figure, median_of
from livemon.monitor.session import Session
from livemon.record.head import encode_head
from livemon.record.lines import encode_event
from livemon.record.reader import open_recording
from livemon.synthetic.oximeter import Oximeter
from livemon.synthetic.sessions import OVER_THE_LINE
from livemon.synthetic.training import events_of, head_of

HOUR_S = 3600.0
RUNS = 5


def write_hour(path: Path) -> int:
    """Write the hour; return the number of events."""
    once_s = sum(phase.seconds for phase in OVER_THE_LINE.phases)
    times = int(HOUR_S // once_s) + 1
    training = replace(
        OVER_THE_LINE,
        phases=OVER_THE_LINE.phases * times,
        oximeters=(Oximeter(rate_hz=4.0), Oximeter(rate_hz=4.0)),
    )
    events = [event for event in events_of(training, 7) if event.t_ns <= HOUR_S * 1e9]
    lines = [encode_head(head_of(training)), *map(encode_event, events)]
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return len(events)


def replayed(path: Path, *, snapshots: bool) -> tuple[float, int]:
    """Replay; return CPU seconds, and the peak memory of the process so far in MB."""
    recording = open_recording(path)
    begun_s = time.process_time()
    session = Session(recording.head, each_tick=Session.snapshot if snapshots else None)
    for event in recording.events():
        session.feed(event)
    return time.process_time() - begun_s, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024


def read_only(path: Path) -> float:
    """Read and parse; return CPU seconds."""
    begun_s = time.process_time()
    deque(open_recording(path).events(), maxlen=0)
    return time.process_time() - begun_s


def figures() -> Iterator[Figure]:
    """Replay with and without snapshots, and only read."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "hour.jsonl"
        events = write_hour(path)
        took_s = median_of(lambda: replayed(path, snapshots=True)[0])
        plain_s = median_of(lambda: replayed(path, snapshots=False)[0])
        floor_s = median_of(lambda: read_only(path))
    beside = f"reading and parsing alone: {HOUR_S / floor_s:,.0f} times real time"
    what = f"one hour of one athlete, {events:,} events"
    yield Figure(f"{what}, a snapshot each tick", HOUR_S / took_s, "times real time", beside=beside)
    yield Figure(f"{what}, no snapshots", HOUR_S / plain_s, "times real time", beside=beside)


def main() -> None:
    """Print the figures."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "hour.jsonl"
        events = write_hour(path)
        runs = [replayed(path, snapshots=True) for _ in range(RUNS)]
        plain = [replayed(path, snapshots=False)[0] for _ in range(RUNS)]
        floor = [read_only(path) for _ in range(RUNS)]
    took_s = statistics.median(seconds for seconds, _ in runs)
    sys.stdout.write(
        f"{events:,} events in one hour\n"
        f"replay with a snapshot at each tick: {HOUR_S / took_s:,.0f} times real time, "
        f"{events / took_s:,.0f} events/s (median of {RUNS})\n"
        f"replay without snapshots: {HOUR_S / statistics.median(plain):,.0f} times real time\n"
        f"reading alone: {took_s / statistics.median(floor):.1f} times quicker than the replay\n"
        f"peak memory after run 1: {runs[0][1]} MB, after run {RUNS}: {runs[-1][1]} MB\n"
    )


if __name__ == "__main__":
    main()
