"""What was refused, by relay and reason: counted, and logged without letting anybody flood the log.

Reasons hold parts of what strangers sent, so only so many different ones are remembered.
"""

import logging
from collections import Counter
from collections.abc import Callable
from typing import Final

_log = logging.getLogger(__name__)

#: Far more than there are kinds of refusals times relays of a class.
_MOST_REASONS: Final = 200
_THE_REST: Final = "", "other reasons"


class Refusals:
    """Counts by relay and reason. The first of each is logged, then the 10th, the 100th and so on.

    Args:
        told: called at each one.

    Attributes:
        newest: the newest one, in words; empty before the first.
    """

    __slots__ = ("_counts", "_told", "newest")

    def __init__(self, told: Callable[[], None] = lambda: None) -> None:
        self._told = told
        self._counts: Counter[tuple[str, str]] = Counter()
        self.newest = ""

    def refuse(self, relay: str, reason: str) -> None:
        """Count one; `relay` is empty where nobody knows whose it was."""
        key = relay, reason
        if key not in self._counts and len(self._counts) >= _MOST_REASONS:
            key = _THE_REST
        self._counts[key] += 1
        who = f"relay {key[0]}: " if key[0] else ""
        self.newest = f"{who}refused {key[1]}"
        self._told()
        if _is_power_of_ten(self._counts[key]):
            _log.warning("%s%s (%d so far)", who, key[1], self._counts[key])

    def of(self, relay: str) -> int:
        """Return how much of this relay's was refused."""
        return sum(count for (known, _), count in self._counts.items() if known == relay)

    @property
    def total(self) -> int:
        """All that was refused."""
        return self._counts.total()

    @property
    def reasons(self) -> tuple[str, ...]:
        """The different reasons, in the order in which they came up."""
        return tuple(reason for _, reason in self._counts)


def _is_power_of_ten(number: int) -> bool:
    return str(number).rstrip("0") == "1"
