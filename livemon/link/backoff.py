"""How long to wait before the next attempt to open a link.

A sensor is only tried when it has just been seen, so the wait is there for the adapter's sake and
not to save useless attempts; it can be short.
"""

from collections.abc import Iterator
from random import Random
from typing import Final

#: BlueZ reports InProgress and other D-Bus errors for about this long after a failed attempt
#: (bleak-retry-connector waits 0.25 s there).
FIRST_S: Final = 0.25
#: While people work out a sensor must not stay away longer than its data are missed; 2 s, an
#: advertisement (1.285 s at most by Apple's accessory guidelines), the link and a heart rate
#: that comes once a second make less than 5 s.
CEILING_S: Final = 2.0


def backoff(
    chance: Random, *, first_s: float = FIRST_S, ceiling_s: float = CEILING_S
) -> Iterator[float]:
    """Yield waits in seconds: doubling up to a ceiling, each shortened by up to a half.

    The random part keeps sensors that dropped together from returning together.
    """
    wait_s = min(first_s, ceiling_s)
    while True:
        yield wait_s * chance.uniform(0.5, 1.0)
        wait_s = min(wait_s * 2, ceiling_s)


def opening_times(*, first_s: float = 6.0, ceiling_s: float = 20.0) -> Iterator[float]:
    """Yield how many seconds to give to each attempt in a row, each a third more than the last.

    One attempt holds the adapter, and other sensors wait for it: the first is kept short (a device
    just seen answers within two advertisements, then tells its services), later ones go up to the
    20 s after which Linux gives up by itself.
    """
    within_s = first_s
    while True:
        yield within_s
        within_s = min(within_s * 4 / 3, ceiling_s)
