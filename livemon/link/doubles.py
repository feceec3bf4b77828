"""Tell a notification that was delivered twice from one that was sent twice.

After a reconnect some systems hand over every packet two or three times
(https://github.com/hbldh/bleak/issues/2002), at the same instant. The guard stands before the
recording, so that each packet is written down once; what it drops is counted, never hidden.
A sensor that fills a 20 ms burst with identical packets loses the copies: no reading is lost,
since each copy says the same.
"""

from typing import Final

#: Copies made by the system come within one turn of the event loop; packets of a sensor are at
#: least one connection interval (7.5 ms, Core 5.4 Vol 6 Part B 4.5.1) apart, mostly 30 ms or more.
WINDOW_NS: Final = 20_000_000


class DoubleGuard:
    """Remember the last payload of each characteristic of one link."""

    def __init__(self, window_ns: int = WINDOW_NS) -> None:
        self._window_ns = window_ns
        self._last: dict[str, tuple[int, bytes]] = {}

    def is_double(self, t_ns: int, characteristic: str, payload: bytes) -> bool:
        """Say whether this is a suspect double; remember it if not."""
        last = self._last.get(characteristic)
        if last is not None and last[1] == payload and t_ns - last[0] <= self._window_ns:
            return True
        self._last[characteristic] = (t_ns, payload)
        return False
