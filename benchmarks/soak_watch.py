"""What is watched in a soak: each packet, each number shown, memory, pauses, what is left.

A packet's way is known by two chained check sums for each sensor, one over what the air delivered
and one over what stands in the recording: one packet lost, doubled, or under another sensor, and
they differ. Equal packets within 20 ms are one reading (link/doubles.py), here as there.
"""

import asyncio
import gc
import os
import time
from collections import Counter, deque
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path
from zlib import crc32

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QWidget

from livemon.decode.heart_rate import HEART_RATE_MEASUREMENT, decode_heart_rate
from livemon.errors import DecodeError
from livemon.events import Event, Notification
from livemon.link.doubles import WINDOW_NS
from livemon.monitor.snapshot import SessionSnapshot

#: A shown heart rate may be this old, in packets of the strap: what is staler is shown as such.
_RECENT = 120


@dataclass(slots=True)
class Chain:
    """All packets of one sensor, in order, as one number."""

    count: int = 0
    check: int = 0

    def add(self, characteristic: str, payload: bytes) -> None:
        """Take the next packet."""
        self.count += 1
        self.check = crc32(payload, crc32(characteristic.encode(), self.check))


class Delivered:
    """What the air handed over, by sensor."""

    def __init__(self) -> None:
        self.chains: dict[str, Chain] = {}
        self.rates: dict[str, deque[float]] = {}
        self._last: dict[tuple[str, str], tuple[int, bytes]] = {}

    def take(self, sensor: str, characteristic: str, payload: bytes, t_ns: int) -> None:
        """Take one packet."""
        last = self._last.get((sensor, characteristic))
        if last is not None and last[1] == payload and t_ns - last[0] <= WINDOW_NS:
            return
        self._last[sensor, characteristic] = (t_ns, payload)
        self.chains.setdefault(sensor, Chain()).add(characteristic, payload)
        if characteristic == HEART_RATE_MEASUREMENT:
            self._rate(sensor, payload)

    def _rate(self, sensor: str, payload: bytes) -> None:
        try:
            bpm = decode_heart_rate(payload, 0.0).bpm
        except DecodeError:  # a fault cut it; the session counts it as refused
            return
        if bpm is not None:
            self.rates.setdefault(sensor, deque(maxlen=_RECENT)).append(bpm)

    def strangers(self, snapshot: SessionSnapshot, straps: dict[str, str]) -> int:
        """Count lanes that show a heart rate which their own strap did not send lately."""
        shown = ((lane.athlete, lane.state.heart_rate.bpm) for lane in snapshot.lanes)
        return sum(
            bpm is not None and bpm not in self.rates.get(straps[athlete], ())
            for athlete, bpm in shown
        )


def recorded(events: Iterable[Event], known: frozenset[tuple[str, str]]) -> dict[str, Chain]:
    """Return the chains of a recording, of the sensors' characteristics in `known`."""
    chains: dict[str, Chain] = {}
    for event in events:
        if isinstance(event, Notification) and (event.sensor, event.characteristic) in known:
            chains.setdefault(event.sensor, Chain()).add(event.characteristic, event.payload)
    return chains


def differing(delivered: dict[str, Chain], written: dict[str, Chain]) -> tuple[int, int]:
    """Return by how many packets the counts differ, and for how many sensors anything does."""
    sensors = delivered.keys() | written.keys()
    pairs = [(delivered.get(one, Chain()), written.get(one, Chain())) for one in sensors]
    return (
        sum(abs(ours.count - theirs.count) for ours, theirs in pairs),
        sum(ours != theirs for ours, theirs in pairs),
    )


class Pauses:
    """Notes how long each collection took, in processor time of its thread."""

    def __init__(self) -> None:
        self.longest_ms, self.count, self._began_s = 0.0, 0, 0.0
        gc.callbacks.append(self._collected)

    def stop(self) -> None:
        """Note no more."""
        gc.callbacks.remove(self._collected)

    def _collected(self, phase: str, _: dict[str, int]) -> None:
        if phase == "start":
            self._began_s = time.thread_time()
            return
        self.count += 1
        self.longest_ms = max(self.longest_ms, 1000 * (time.thread_time() - self._began_s))


@dataclass(frozen=True, slots=True)
class Held:
    """What the process holds at one moment; counts that have to stay."""

    t_s: float
    memory_mb: float
    files: int
    tasks: int
    widgets: int
    links: Counter[str] = field(compare=False)  #: names of the tasks, to see whose they are


def held(t_s: float, window: QWidget) -> Held:
    """Look; memory and files are known on Linux only."""
    tasks = asyncio.all_tasks()
    return Held(
        t_s,
        resident_mb(),
        len(os.listdir("/proc/self/fd")) if Path("/proc/self/fd").exists() else 0,  # noqa: PTH208 - names only
        len(tasks),
        len(window.findChildren(QObject)),
        Counter(task.get_coro().__qualname__ for task in tasks),
    )


def resident_mb() -> float:
    """Return what the process holds now; 0 where the system doesn't say."""
    statm = Path("/proc/self/statm")
    if not statm.exists():
        return 0.0
    return int(statm.read_text("ascii").split()[1]) * os.sysconf("SC_PAGE_SIZE") / 2**20
