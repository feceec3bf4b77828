"""What the hub's screen says of its relays, in words."""

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Final

from livemon.tongue import said, said_n

#: A relay that is there says so each second. Three are missed before it is told, so that the
#: screen says it within five seconds.
SILENT_AFTER_S: Final = 4.0
_AGE: Final = re.compile(r" for \d+ s$")
#: How long a refusal is told.
_REFUSAL_S: Final = 20.0


@dataclass(frozen=True, slots=True)
class RelayHeard:
    """One relay.

    Attributes:
        silent_s: since its last sign of life.
        left: it said goodbye, or the broker said it for one that was cut off.
    """

    relay: str
    silent_s: float
    left: bool


@dataclass(frozen=True, slots=True)
class HubStanding:
    """What there is to say.

    Attributes:
        trouble: what is wrong with the broker; empty if nothing is.
        disk: why relays' recordings can't be kept; empty if they can.
        refused: the newest refusal, and how long ago it was.
    """

    trouble: str
    disk: str
    relays: tuple[RelayHeard, ...]
    refused: tuple[str, float] | None


def hub_notices(standing: HubStanding) -> tuple[str, ...]:
    """Say it, the most important first."""
    return tuple(_notices(standing))


class SpokenNotices:
    """Says notices once, where no screen shows them all the time.

    Args:
        notices: as they are now; an age in one of them makes it no other.
        say: takes a new one.
    """

    def __init__(self, notices: Callable[[], tuple[str, ...]], say: Callable[[str], None]) -> None:
        self._notices = notices
        self._say = say
        self._said: frozenset[str] = frozenset()

    def look(self) -> None:
        """Say what is new."""
        now = {_AGE.sub("", notice): notice for notice in self._notices()}
        for key in now.keys() - self._said:
            self._say(now[key])
        self._said = frozenset(now)


def _notices(standing: HubStanding) -> Iterable[str]:
    if standing.trouble:
        yield said("NO BROKER: {why}", why=said(standing.trouble))
    for heard in standing.relays:
        if heard.left:
            yield said("relay {relay} is gone", relay=heard.relay)
        elif heard.silent_s >= SILENT_AFTER_S:
            yield said(
                "relay {relay}: nothing for {seconds} s",
                relay=heard.relay,
                seconds=f"{heard.silent_s:.0f}",
            )
    if standing.disk:
        yield said("relays' recordings are NOT KEPT: {why}", why=standing.disk)
    if not standing.trouble and not standing.relays:
        yield said("no relay yet")
    there = sum(not one.left and one.silent_s < SILENT_AFTER_S for one in standing.relays)
    if there:
        yield said_n("{n} relay", "{n} relays", there)
    if standing.refused is not None and standing.refused[1] < _REFUSAL_S:
        yield standing.refused[0]
