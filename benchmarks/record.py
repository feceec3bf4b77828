"""Recordings put to the test: speed, kills, a full disk, reading along, a class of 24.

    python -m benchmarks.record speed
    python -m benchmarks.record kills --times 100 --per-s 300
    python -m benchmarks.record along --per-s 1000 --seconds 20
    python -m benchmarks.record full
    python -m benchmarks.record school

Each prints what it measured and fails if a promise is broken.
"""

import argparse
import os
import resource
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

from benchmarks.figure import Figure, line
from livemon.events import Event, Head, Mark, Notification, Sensor
from livemon.record.at_once import write_recording
from livemon.record.library import Library
from livemon.record.reader import open_recording
from livemon.record.sync import Syncer
from livemon.record.tail import Tail
from livemon.record.writer import Journal, JournalState

HEART_RATE = "00002a37-0000-1000-8000-00805f9b34fb"
HEAD = Head("2026-11-25T10:00:00+00:00", "bench", (), (Sensor("belt", "Belt"),))
STAMP = 12  #: octets of number and time in a payload


def beat(number: int, sent_ns: int = 0) -> Notification:
    """Return a notification that carries its number and the moment it was made."""
    payload = number.to_bytes(4, "big") + sent_ns.to_bytes(8, "big")
    return Notification(number * 1_000_000, "belt", HEART_RATE, payload)


def stamp(event: Event) -> tuple[int, int]:
    """Return number and moment of `beat`."""
    assert isinstance(event, Notification)
    return int.from_bytes(event.payload[:4], "big"), int.from_bytes(event.payload[4:STAMP], "big")


def child(path: Path, first: int, per_s: float) -> None:
    """Record until killed: `per_s` events a second, kept to on the average."""
    syncer = Syncer()
    journal = Journal(path, HEAD, now_s=time.perf_counter(), wake_sync=syncer.wake)
    syncer.start(journal.sync)
    begun_s = time.perf_counter()
    for number in range(first, 2**32):
        event = beat(number, time.time_ns())
        os.write(1, event.payload)  # said before it is recorded: the harder promise
        journal.append(event, now_s=time.perf_counter())
        wait_s = begun_s + (number - first) / per_s - time.perf_counter()
        if wait_s > 0:
            time.sleep(wait_s)


def spawn(path: Path, first: int, per_s: float) -> "subprocess.Popen[bytes]":
    """Start a child that records."""
    command = [
        sys.executable,
        "-m",
        "benchmarks.record",
        "child",
        str(path),
        str(first),
        str(per_s),
    ]
    return subprocess.Popen(command, stdout=subprocess.PIPE)


def kills(folder: Path, times: int, per_s: float) -> Iterator[Figure]:
    """Kill a recording process at random times; what is older than a second has to be there."""
    path, random = folder / "kills.jsonl", Random(times)
    said = lost = old = 0
    for number in range(times):
        first = number * 1_000_000
        process = spawn(path, first, per_s)
        assert process.stdout is not None
        heard = process.stdout.read(STAMP)  # it has begun
        time.sleep(random.uniform(0.0, 1.0))
        killed_ns = time.time_ns()
        process.send_signal(signal.SIGKILL)
        heard += process.stdout.read()
        process.wait()
        sent = {
            int.from_bytes(heard[at : at + 4], "big"): int.from_bytes(
                heard[at + 4 : at + STAMP], "big"
            )
            for at in range(0, len(heard) - STAMP + 1, STAMP)
        }
        opened = open_recording(path)
        missing = sent.keys() - {stamp(event)[0] for event in opened.events()}
        old += sum(sent[n] < killed_ns - 1_000_000_000 for n in missing)
        said, lost = said + len(sent), lost + len(missing)
    beside = f"{said} events announced; {lost} being written; {opened.problems.bad} bad lines"
    yield Figure(
        f"{times} kills at {per_s:g} events/s: lost, older than a second", old, "", 0.0,
        beside=beside,
    )  # fmt: skip
    assert lost <= times  # at most the one that was being written


def along(folder: Path, per_s: float, seconds: float) -> Iterator[Figure]:
    """Read while another process writes."""
    path = folder / "along.jsonl"
    process = spawn(path, 0, per_s)
    assert process.stdout is not None
    process.stdout.read(STAMP)
    while not path.exists() or not path.stat().st_size:
        time.sleep(0.01)
    tail, until_s, delays_ms, expected = Tail(path), time.perf_counter() + seconds, [], 0
    os.set_blocking(process.stdout.fileno(), False)
    while time.perf_counter() < until_s:
        for event in tail.poll():
            number, sent_ns = stamp(event)
            assert number == expected
            expected += 1
            delays_ms.append((time.time_ns() - sent_ns) / 1e6)
        process.stdout.read()  # so that its pipe never fills
        time.sleep(0.005)
    process.kill()
    process.wait()
    delays_ms.sort()
    beside = (
        f"{expected} events in order; {delays_ms[-1]:.0f} ms at most; {tail.problems.bad} bad lines"
    )
    yield Figure(
        f"read along at {per_s:g} events/s, median delay", delays_ms[len(delays_ms) // 2], "ms",
        beside=beside,
    )  # fmt: skip


def full(folder: Path) -> Iterator[Figure]:
    """Let the largest file size be reached mid-session: how soon told, what lost, when back."""
    path, now_s = folder / "full.jsonl", time.perf_counter
    _, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    journal = Journal(path, HEAD, now_s=now_s())
    resource.setrlimit(resource.RLIMIT_FSIZE, (100_000, hard))
    slowest_ms, told_after_ms, number = 0.0, None, 0
    begun_s = now_s()
    while now_s() - begun_s < 30:
        began_s = now_s()
        journal.append(beat(number), now_s=began_s)
        slowest_ms = max(slowest_ms, (now_s() - began_s) * 1e3)
        number += 1
        if told_after_ms is None and journal.report.state is JournalState.NOT_RECORDING:
            told_after_ms = (now_s() - began_s) * 1e3
        if now_s() - begun_s > 15:
            resource.setrlimit(resource.RLIMIT_FSIZE, (hard, hard))
        time.sleep(1 / 300)
    journal.close(now_s=now_s())
    found = [stamp(event)[0] for event in open_recording(path).events()]
    assert told_after_ms is not None
    missing = number - len(found) if found == sorted(set(found)) else number
    beside = f"{number} events; longest append {slowest_ms:.1f} ms; {journal.report.state.value}"
    yield Figure("full disk for 15 s: events lost or out of order", missing, "", 0.0, beside=beside)
    yield Figure("full disk: told after the refused write", told_after_ms, "ms")


def speed(folder: Path) -> Iterator[Figure]:
    """Measure reading and writing on one core, in processor time."""
    count, path = 600_000, folder / "speed.jsonl"
    began_s = time.process_time()
    write_recording(path, HEAD, (beat(number) for number in range(count)))
    wrote_s = time.process_time() - began_s
    rates = []
    for _ in range(3):
        began_s = time.process_time()
        assert sum(1 for _ in open_recording(path).events()) == count
        rates.append(count / (time.process_time() - began_s))
    yield Figure("written", count / wrote_s, "lines/s")
    yield Figure("read", max(rates), "lines/s")


def school(folder: Path) -> Iterator[Figure]:
    """Open three hours of 24 athletes with three channels at 4 Hz."""
    path, per_s, seconds = folder / "school.jsonl", 4, 3 * 3600
    sensors = tuple(Sensor(f"s{i}", "") for i in range(24 * 3))

    def events() -> Iterator[Event]:
        for tick in range(per_s * seconds):
            t_ns = tick * 1_000_000_000 // per_s
            if tick % (per_s * 300) == 0:
                yield Mark(t_ns, f"m{tick}", None, "bout_start")
            for sensor in sensors:
                yield Notification(t_ns, sensor.sensor, HEART_RATE, b"\x06\x3c\x00\x04")

    write_recording(path, Head("2026-11-25T10:00:00+00:00", "school", (), sensors), events())
    began_s = time.perf_counter()
    next(open_recording(path).events())
    first_s = time.perf_counter() - began_s
    began_s = time.perf_counter()
    (summary,) = Library(folder).summaries()
    listed_s = time.perf_counter() - began_s
    began_s = time.perf_counter()
    Library(folder).summaries()
    again_s = time.perf_counter() - began_s
    began_s = time.perf_counter()
    count = sum(1 for _ in open_recording(path).events())
    whole_s = time.perf_counter() - began_s
    peak_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    what = f"class of 24, {count:,} events, {path.stat().st_size / 1e6:.0f} MB"
    yield Figure(f"{what}: first event", first_s * 1e3, "ms")
    beside = f"{summary.bouts} bouts, {summary.notifications} packets"
    yield Figure(
        "the same: listed", listed_s, "s", beside=f"{beside}; again {again_s * 1e3:.0f} ms"
    )
    yield Figure("the same: all events read", whole_s, "s", beside=f"peak memory {peak_mb:.0f} MB")


def figures() -> Iterator[Figure]:
    """Measure all, with few kills."""
    return _all(times=10, seconds=5.0)


def long_figures() -> Iterator[Figure]:
    """Measure all, with a hundred kills."""
    return _all(times=100, seconds=20.0)


def _all(times: int, seconds: float) -> Iterator[Figure]:
    with TemporaryDirectory(prefix="livemon-record-") as name:
        folder = Path(name)
        yield from speed(folder)
        yield from kills(folder, times, 300.0)
        yield from along(folder, 1000.0, seconds)
        yield from full(folder)
        (folder / "school").mkdir()  # a shelf with this one recording
        yield from school(folder / "school")


def main() -> None:
    """Run what the command line asks for."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("what", choices=["speed", "kills", "along", "full", "school", "child"])
    parser.add_argument("rest", nargs="*")
    parser.add_argument("--times", type=int, default=100)
    parser.add_argument("--per-s", type=float, default=300)
    parser.add_argument("--seconds", type=float, default=20)
    asked = parser.parse_args()
    if asked.what == "child":
        child(Path(asked.rest[0]), int(asked.rest[1]), float(asked.rest[2]))
    with TemporaryDirectory(prefix="livemon-record-") as name:
        folder = Path(name)
        match asked.what:
            case "speed":
                found = speed(folder)
            case "kills":
                found = kills(folder, asked.times, asked.per_s)
            case "along":
                found = along(folder, asked.per_s, asked.seconds)
            case "full":
                found = full(folder)
            case _:
                found = school(folder)
        for figure in found:
            print(line(figure))


if __name__ == "__main__":
    main()
