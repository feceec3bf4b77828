"""Derive when a sample was taken from the sensor's own counter, although it arrived late.

Radio delays only ever add. So of all arrivals the earliest, measured against the sensor's clock,
lies nearest to the truth: the lower envelope of arrival minus device time (as in the offset
estimates of NTP, RFC 5905 section 10, which likewise trust the fastest packets). The sensor's clock
may drift; the envelope is taken over a span short enough that it does not matter. Arrival stamps
stay as they are; this is a second time beside them.
"""

from collections import deque
from typing import Final

#: 50 ppm, a common crystal, moves the envelope by 3 ms a minute, well below radio delays.
_SPAN_NS: Final = 60_000_000_000
#: A device clock that jumps by more has been restarted.
_RESTART_NS: Final = 5_000_000_000


class DeviceClock:
    """Turns device time into session time."""

    def __init__(self, span_ns: int = _SPAN_NS) -> None:
        self._span_ns = span_ns
        # Arrivals whose offset is smaller than all later ones: the minimum stands first.
        self._envelope: deque[tuple[int, int]] = deque()

    def restart(self) -> None:
        """Forget what was seen: a sum of RR intervals has lost beats, and lags from now on."""
        self._envelope.clear()

    def taken_ns(self, arrived_ns: int, device_ns: int) -> int:
        """Return when the sample was taken, in session time; never after it arrived."""
        offset_ns = arrived_ns - device_ns
        envelope = self._envelope
        if envelope and abs(offset_ns - envelope[-1][1]) > _RESTART_NS:
            envelope.clear()
        while envelope and envelope[-1][1] >= offset_ns:
            envelope.pop()
        envelope.append((arrived_ns, offset_ns))
        while envelope[0][0] < arrived_ns - self._span_ns:
            envelope.popleft()
        return device_ns + envelope[0][1]
