"""Export of a class: 24 athletes for 3 h, invented, a strap at 1 Hz and two oximeters each.

    python -m benchmarks.export            every format
    python -m benchmarks.export csv        one of them

Prints seconds, peak memory of the exporting process and size; fails above 30 s or 500 MB.
"""

import heapq
import os
import resource
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory

from benchmarks.figure import Figure
from livemon.app.gym import gym_of
from livemon.events import Event, LinkDown, LinkUp, Mark, Notification
from livemon.record.at_once import write_recording
from livemon.synthetic.sessions import OVER_THE_LINE, Training
from livemon.synthetic.training import events_of

ATHLETES = 24
SESSION_S = 3 * 3600.0
MOST_S = 30.0
MOST_MB = 500
FORMS = {
    "csv": ("--to", "csv"),
    "csv-one": ("--to", "csv", "--one-file"),
    "parquet": ("--to", "parquet"),
    "snirf": ("--to", "snirf"),
}


def long_training() -> Training:
    """Return the training again and again for three hours."""
    once_s = sum(phase.seconds for phase in OVER_THE_LINE.phases)
    times = int(SESSION_S // once_s) + 1
    return replace(OVER_THE_LINE, phases=OVER_THE_LINE.phases * times)


def events_of_one(training: Training, number: int) -> Iterator[Event]:
    """Yield the events of one athlete, with their own sensors; marks come from the first."""
    for event in events_of(training, number):
        match event:
            case Notification() | LinkUp() | LinkDown():
                yield replace(event, sensor=f"{number}-{event.sensor}")
            case Mark() if number == 1:
                yield event


def write_class(path: Path) -> int:
    """Write the recording; return its size in bytes."""
    training = long_training()
    head = gym_of(replace(training, phases=training.phases[:1]), ATHLETES, 1).head
    streams = [events_of_one(training, number) for number in range(1, ATHLETES + 1)]
    merged = heapq.merge(*streams, key=lambda event: event.t_ns)
    until_ns = SESSION_S * 1e9
    write_recording(path, head, (event for event in merged if event.t_ns <= until_ns))
    return path.stat().st_size


def size_of(path: Path) -> int:
    """Return the bytes of a file, or of all files in a folder."""
    files = path.iterdir() if path.is_dir() else [path]
    return sum(file.stat().st_size for file in files)


def measured(recording: Path, out: Path, form: str) -> tuple[float, float, int]:
    """Export once in a process of its own; return seconds, CPU seconds and peak memory in MB."""
    command = [sys.executable, "-m", "livemon", "export", str(recording), *FORMS[form]]
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    begun_s = time.perf_counter()
    subprocess.run(
        [*command, "--out", str(out)],
        check=True,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    took_s = time.perf_counter() - begun_s
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    cpu_s = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    # In kB on Linux: the largest of the processes so far, replaying ones included.
    return took_s, cpu_s, after.ru_maxrss // 1024


def figures() -> Iterator[Figure]:
    """Export once in each format."""
    with TemporaryDirectory() as name:
        folder = Path(name)
        recording = folder / "class.jsonl"
        size_mb = write_class(recording) / 1e6
        for form in FORMS:
            took_s, cpu_s, peak_mb = measured(recording, folder / form, form)
            beside = f"{cpu_s:.0f} s on the processors; from {size_mb:.0f} MB of recording"
            what = f"{ATHLETES} athletes, 3 h, as {form}"
            yield Figure(what, took_s, "s", at_most=MOST_S, beside=beside)
            on_disk = f"{size_of(folder / form) / 1e6:.0f} MB on disk"
            yield Figure("its largest process", peak_mb, "MB", at_most=MOST_MB, beside=on_disk)


def main() -> None:
    """Print the figures."""
    asked = sys.argv[1:] or list(FORMS)
    kept = True
    with TemporaryDirectory() as name:
        folder = Path(name)
        recording = folder / "class.jsonl"
        sys.stdout.write(f"recording {write_class(recording) / 1e6:.0f} MB\n")
        for form in asked:
            out = folder / form
            took_s, cpu_s, peak_mb = measured(recording, out, form)
            sys.stdout.write(
                f"{form:<8} {took_s:5.1f} s ({cpu_s:.0f} s of CPU, {os.cpu_count()} cores)  "
                f"{peak_mb} MB memory  {size_of(out) / 1e6:.0f} MB on disk\n"
            )
            kept = kept and took_s < MOST_S and peak_mb < MOST_MB
    sys.exit(0 if kept else 1)


if __name__ == "__main__":
    main()
