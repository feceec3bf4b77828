"""When something goes wrong in a soak: radio, disk, broker, clocks; the same on every run."""

import errno
import os
from dataclasses import dataclass
from random import Random

from livemon.app.gym import Mishap
from livemon.link.simulated.faults import Fault

RADIO_PER_H, DISK_PER_H, BROKER_PER_H, CLOCK_PER_H = 100, 6, 12, 2
#: At the end everything is well, so that what is owed can be paid.
QUIET_S = 60.0


@dataclass(frozen=True, slots=True)
class Spell:
    """Something is wrong from `begin_s` to `end_s`."""

    begin_s: float
    end_s: float


@dataclass(frozen=True, slots=True)
class Timetable:
    """All that goes wrong.

    Attributes:
        full: the disk takes nothing; before, a write is cut short.
        broker: the broker's connections are cut, and it comes back at the end of the spell.
        slept: the computer sleeps as long as the spell is.
        clock_set: at these times somebody sets the clock by an hour.
    """

    radio: tuple[Mishap, ...]
    full: tuple[Spell, ...]
    broker: tuple[Spell, ...]
    slept: tuple[Spell, ...]
    clock_set: tuple[float, ...]

    @property
    def count(self) -> int:
        """How many faults there are."""
        beside = len(self.full) + len(self.broker) + len(self.slept) + len(self.clock_set)
        return len(self.radio) + beside


def timetable(sensors: list[str], seconds: float) -> Timetable:
    """Return faults at random times; each kind of the radio's comes in turn."""
    chance, kinds = Random(7), list(Fault)
    until_s = seconds - QUIET_S

    def times(per_h: float) -> list[float]:
        # Every kind at least once, however short the soak is.
        return sorted(
            chance.uniform(10, until_s) for _ in range(max(1, round(per_h * seconds / 3600)))
        )

    def spells(per_h: float, longest_s: float) -> tuple[Spell, ...]:
        begun = times(per_h)
        return tuple(Spell(at, min(until_s, at + chance.uniform(2, longest_s))) for at in begun)

    radio = tuple(
        Mishap(kinds[number % len(kinds)], chance.choice(sensors), at_s, chance.uniform(2, 40))
        for number, at_s in enumerate(times(max(RADIO_PER_H, len(kinds) * 3600 / seconds)))
    )
    return Timetable(
        radio,
        spells(DISK_PER_H, 60.0),
        spells(BROKER_PER_H, 90.0),
        spells(CLOCK_PER_H, 600.0),
        tuple(times(CLOCK_PER_H)),
    )


class Disk:
    """Takes what it is given; nothing while it is full, and half of the first write then."""

    def __init__(self) -> None:
        self.full = False
        self.refused = 0
        self._cut_short = False

    def fill(self) -> None:
        """Let there be room for half a line more."""
        self.full = self._cut_short = True

    def empty(self) -> None:
        """Somebody made room."""
        self.full = False

    def write(self, descriptor: int, data: bytes) -> int:
        """Do as os.write would."""
        if not self.full:
            return os.write(descriptor, data)
        if self._cut_short:
            self._cut_short = False
            return os.write(descriptor, data[: len(data) // 2])
        self.refused += 1
        raise OSError(errno.ENOSPC, "No space left on device")
