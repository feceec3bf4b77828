"""The last so many samples of one channel, in time order, without ever growing or moving them.

Each value is written twice, `capacity` places apart, so any window of up to `capacity` samples
lies in one piece: no copy on reading, no shifting on writing. What is in one piece sums to the
same bits in a live run and in a replay.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray


class Ring:
    """A fixed number of (time, value) pairs; the oldest give way.

    Args:
        capacity: how many samples are kept.
    """

    __slots__ = ("_at", "_capacity", "_count", "_t_ns", "_values")

    def __init__(self, capacity: int) -> None:
        if capacity < 1:
            raise ValueError(f"capacity: expected at least 1, found {capacity}")
        self._capacity = capacity
        self._t_ns = np.zeros(2 * capacity, dtype=np.int64)
        self._values = np.zeros(2 * capacity, dtype=np.float64)
        self._at = 0
        self._count = 0

    @property
    def count(self) -> int:
        """How many samples were ever appended."""
        return self._count

    def append(self, t_ns: int, value: float) -> None:
        """Take one sample, not older than the last one."""
        at = self._at
        mirror = at + self._capacity
        self._t_ns[at] = self._t_ns[mirror] = t_ns
        self._values[at] = self._values[mirror] = value
        self._at = at + 1 if at + 1 < self._capacity else 0
        self._count += 1

    def last(self, samples: int) -> tuple[NDArray[np.int64], NDArray[np.float64]]:
        """Return the newest `samples` times (ns) and values, oldest first; fewer if there are.

        Both arrays are read-only views of shape (n,) and contiguous.
        """
        return self.window(self._count, samples)

    def window(self, end: int, samples: int) -> tuple[NDArray[np.int64], NDArray[np.float64]]:
        """Return up to `samples` samples that end before number `end`, oldest first.

        Samples that have already given way are left out.
        """
        end = min(end, self._count)
        first = min(max(end - samples, self._count - self._capacity, 0), end)
        start = first % self._capacity
        stop = start + end - first
        t_ns, values = self._t_ns[start:stop], self._values[start:stop]
        t_ns.flags.writeable = values.flags.writeable = False
        return t_ns, values


@dataclass(frozen=True, slots=True)
class Trail:
    """A window on a ring as it was at one moment; safe to read while the ring goes on.

    Attributes:
        ring: where the samples lie; NaN in the values marks a break in the line.
        end: number of samples there were when this was made.
        keep: how many of them may still be read: less than the ring holds, so that a slow reader
            isn't overtaken by the writer.
    """

    ring: Ring
    end: int
    keep: int

    def read(self) -> tuple[NDArray[np.int64], NDArray[np.float64]]:
        """Return times (ns) and values, oldest first, as read-only views of shape (n,)."""
        return self.ring.window(self.end, self.keep)
