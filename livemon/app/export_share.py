"""A share of a recording's athletes: a session that is told of nobody else says the same of them.

Athletes don't touch one another in a session. Others' sensors are worn by nobody here, and what
they send is left out.
"""

from dataclasses import dataclass, replace

from livemon.events import Assigned, AthleteChanged, Event, Head, Notification


@dataclass(frozen=True, slots=True)
class Share:
    """Some of the athletes.

    Attributes:
        athletes: ids of those in the head who are in it.
        others: ids of those in the head who are not.
        takes_late: has those, too, who join later.
    """

    athletes: frozenset[str]
    others: frozenset[str]
    takes_late: bool

    def owns(self, athlete: str | None) -> bool:
        """Say whether the athlete is in this share."""
        if athlete is None:
            return False
        return athlete in self.athletes or (self.takes_late and athlete not in self.others)

    def part(self, head: Head) -> "Part":
        """Return the recording as this share sees it."""
        return Part(self, head)


class Part:
    """What concerns one share, as a recording is read."""

    __slots__ = ("_share", "_worn", "head")

    def __init__(self, share: Share, head: Head) -> None:
        self._share = share
        self._worn: set[str] = set()
        self.head = replace(
            head,
            athletes=tuple(one for one in head.athletes if share.owns(one.athlete)),
            assigned=tuple(self._assigned(assigned) for assigned in head.assigned),
        )

    def own(self, event: Event) -> Event | None:
        """Return the event as this share is to see it; None where it is about others."""
        match event:
            case Notification():
                return event if event.sensor in self._worn else None
            case Assigned():
                return self._assigned(event)
            case AthleteChanged():
                return event if self._share.owns(event.athlete.athlete) else None
        return event

    def _assigned(self, assigned: Assigned) -> Assigned:
        if self._share.owns(assigned.athlete):
            self._worn.add(assigned.sensor)
            return assigned
        self._worn.discard(assigned.sensor)
        return replace(assigned, athlete=None)


def shares_of(head: Head, asked: tuple[str, ...], most: int) -> tuple[Share, ...]:
    """Return at most so many shares, in which those `asked` for are spread; the first takes late.

    With nobody asked for there is one, for whoever may still come.
    """
    count = max(1, min(most, len(asked)))
    everybody = frozenset(one.athlete for one in head.athletes)
    shares = [frozenset(asked[place::count]) for place in range(count)]
    return tuple(Share(own, everybody - own, place == 0) for place, own in enumerate(shares))
