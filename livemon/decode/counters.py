"""Turn a running count of revolutions into a rate.

Cycling sensors send how many revolutions there were in all, and when the last one ended. Both
start again at 0 after 2^N, so only differences modulo 2^N mean anything. A difference is worth
nothing when the clock may have gone round in between, or when it can't be (the sensor was
switched off and counts afresh).
Source: Bluetooth SIG, Cycling Power Service and Cycling Speed and Cadence Service: roll-over.
"""

from dataclasses import dataclass
from typing import Final

#: No new revolution for so long: the wheel or crank stands. Common practice, no source: even at
#: 20/min a revolution takes 3 s.
STANDS_AFTER_S: Final = 3.0


@dataclass(frozen=True, slots=True)
class Revolutions:
    """What a packet says of one wheel or crank."""

    count: int
    event: int  #: when the last revolution ended, in ticks


@dataclass(frozen=True, slots=True)
class CounterKind:
    """How one count is kept.

    Attributes:
        count_modulo: the count starts again at 0 there.
        ticks_per_s: of the event time, which starts again after 65536 ticks.
        fastest_per_s: revolutions a second beyond which a difference can't be meant.
    """

    count_modulo: int
    ticks_per_s: int
    fastest_per_s: float


_TICKS_MODULO: Final = 1 << 16

# Common practice, no source: nobody pedals 300/min; 25/s is 50 m/s on a road wheel.
_CRANK_PER_S: Final = 5.0
_WHEEL_PER_S: Final = 25.0

CRANK: Final = CounterKind(1 << 16, 1024, _CRANK_PER_S)
SPEED_WHEEL: Final = CounterKind(1 << 32, 1024, _WHEEL_PER_S)  #: of a speed sensor
POWER_WHEEL: Final = CounterKind(1 << 32, 2048, _WHEEL_PER_S)  #: of a power meter


class RevolutionRate:
    """The rate of one wheel or crank."""

    __slots__ = ("_kind", "_last", "_rate_per_s", "_turned_t_s")

    def __init__(self, kind: CounterKind) -> None:
        self._kind = kind
        self._last: Revolutions | None = None
        self._turned_t_s = 0.0  # arrival of the packet that told of the last revolution
        self._rate_per_s: float | None = None

    def update(self, now: Revolutions, t_s: float) -> float | None:
        """Return revolutions per second after a packet that arrived at `t_s`.

        None until two packets can be compared; 0 when nothing has turned for a while.
        """
        last = self._last
        silent_s = t_s - self._turned_t_s
        if last is None:
            self._start(now, t_s)
        elif now == last:
            if silent_s >= STANDS_AFTER_S:
                self._rate_per_s = 0.0
        elif silent_s >= _TICKS_MODULO / self._kind.ticks_per_s:
            self._start(now, t_s)  # the clock has gone round, who knows how often
        else:
            self._turn(last, now, t_s)
        return self._rate_per_s

    def _start(self, now: Revolutions, t_s: float) -> None:
        self._last, self._turned_t_s, self._rate_per_s = now, t_s, None

    def _turn(self, last: Revolutions, now: Revolutions, t_s: float) -> None:
        turns = (now.count - last.count) % self._kind.count_modulo
        ticks = (now.event - last.event) % _TICKS_MODULO
        self._start(now, t_s)
        if ticks and turns * self._kind.ticks_per_s <= self._kind.fastest_per_s * ticks:
            self._rate_per_s = turns * self._kind.ticks_per_s / ticks


def way(per_s: float | None, wheel_m: float | None) -> float | None:
    """Return the speed of a wheel in m/s; None where its rate or its size is not known."""
    return None if per_s is None or wheel_m is None else per_s * wheel_m
