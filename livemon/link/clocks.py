"""Notice that nobody was watching: the computer slept, the program stood still, a clock was set.

Clocks differ in what they do during sleep: the monotonic one stops on Linux and macOS and goes on
under Windows (PEP 418); Linux has one that never stops. So three are compared every second, and a
jump makes an explicit gap, after which windows and warnings begin afresh. The judgement is pure;
`read_clocks` and `watch_clocks` below are all that looks at real clocks.
"""

import asyncio
import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final, NoReturn

from livemon.events import Gap

#: Smaller jumps are within what a busy computer and a clock being disciplined do.
LIMIT_NS: Final = 2_000_000_000
_EVERY_S: Final = 1.0


@dataclass(frozen=True, slots=True)
class Clocks:
    """All clocks at one moment.

    Attributes:
        session_ns: what events are stamped with.
        wall_ns: the time of day; anybody may set it.
        boot_ns: goes on while the computer sleeps; None where the system has no such clock.
    """

    session_ns: int
    wall_ns: int
    boot_ns: int | None


def gap_between(before: Clocks, after: Clocks, *, expected_ns: int) -> Gap | None:
    """Return the gap between two looks at the clocks, `expected_ns` apart if all was well.

    Of several signs the surest names the reason: first the clock that never stops, then our own
    lateness, then the time of day, which can't tell sleep from having been set.
    """
    session_ns = after.session_ns - before.session_ns
    late_ns = session_ns - expected_ns
    wall_ns = after.wall_ns - before.wall_ns - session_ns
    boot_ns = None
    if before.boot_ns is not None and after.boot_ns is not None:
        boot_ns = after.boot_ns - before.boot_ns - session_ns
    if boot_ns is not None and boot_ns > LIMIT_NS:
        return Gap(after.session_ns, boot_ns, "the computer slept")
    if late_ns > LIMIT_NS:
        return Gap(after.session_ns, late_ns, "the computer slept or the program stood still")
    if wall_ns > LIMIT_NS and boot_ns is None:
        return Gap(after.session_ns, wall_ns, "the computer slept or its clock was set")
    if abs(wall_ns) > LIMIT_NS:
        return Gap(after.session_ns, 0, "the computer's clock was set")
    return None


def read_clocks(session_ns: Callable[[], int]) -> Clocks:
    """Look at all clocks."""
    boot = getattr(time, "CLOCK_BOOTTIME", None)  # Linux only
    return Clocks(
        session_ns(), time.time_ns(), None if boot is None else time.clock_gettime_ns(boot)
    )


async def watch_clocks(read: Callable[[], Clocks], on_gap: Callable[[Gap], None]) -> NoReturn:
    """Compare the clocks every second and report each gap, until cancelled."""
    before = read()
    while True:
        await asyncio.sleep(_EVERY_S)
        after = read()
        gap = gap_between(before, after, expected_ns=round(_EVERY_S * 1e9))
        before = after
        if gap is not None:
            on_gap(gap)
