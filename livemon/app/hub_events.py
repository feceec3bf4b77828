"""One relay's lines as events of the hub's session.

What is live is handed on with its own bytes and intervals, in the hub's time. Of what is filled in
later only what still holds is told, as of now: who wears what, and which links are open; so a hub
that came late, or missed a while, knows the present kit, and no old reading ever looks live. The
end of a relay's session, or a gap in it, concerns its own sensors and nobody else's.

Nothing a relay says can touch another's athletes: every id has to begin with the relay's own.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from typing import Final

from livemon.app.relay_ids import relay_of
from livemon.decode.adapter import parse_adapter
from livemon.errors import AdapterError, RecordingError
from livemon.events import (
    Assigned,
    AthleteChanged,
    End,
    Event,
    Gap,
    Head,
    LinkDown,
    LinkUp,
    Mark,
    Notification,
    SensorAdded,
)
from livemon.net.hub import LiveLines
from livemon.net.punctual import LATE_NS
from livemon.net.trouble import MessageError
from livemon.record.lines import decode_event

#: Heads of the present session and of earlier ones that it still sends.
_MOST_HEADS: Final = 32
#: What tells how things are, and not what happened.
_Standing = LinkUp | LinkDown | SensorAdded | AthleteChanged | Assigned


class RelayedEvents:
    """What one relay says.

    Args:
        refuse: takes what was wrong with a line.
    """

    def __init__(self, relay: str, refuse: Callable[[str], None]) -> None:
        self._relay = relay
        self._refuse = refuse
        self._heads: dict[str, Head] = {}
        self._session = ""
        self._linked: dict[str, None] = {}
        self._applied: dict[tuple[str, str], int] = {}  # number of the newest line about something

    def head(self, head: Head) -> None:
        """Take the head of a recording that is or will be sent.

        Raises:
            MessageError: it can't be used.
        """
        self._check_head(head)
        self._heads.pop(head.session, None)
        self._heads[head.session] = head
        if len(self._heads) > _MOST_HEADS:
            self._heads.pop(next(one for one in self._heads if one != self._session))

    def begin(self, session: str, now_ns: int) -> list[Event]:
        """Return what is new when the relay writes this recording: its kit instead of the last."""
        if session == self._session or session not in self._heads:
            return []
        before, head = self._heads.get(self._session), self._heads[session]
        self._session = session
        self._applied.clear()
        return [*self._all_down(now_ns), *_kit(before, head, now_ns)]

    def live(self, session: str, live: LiveLines, now_ns: int) -> list[Event]:
        """Return what these lines say, in the hub's time."""
        told = self.begin(session, now_ns)
        if session != self._session:
            return told  # its head has not come yet
        for number, line in enumerate(live.lines, start=live.first):
            for event in self._read(line):
                if self._is_news(event, number, live.sent_ns):
                    told += self._told(_moved(event, live.offset_ns))
        return told

    def filled(self, session: str, first: int, lines: Iterable[bytes], now_ns: int) -> list[Event]:
        """Return what of these old lines still holds, as of now."""
        told: list[Event] = []
        if session != self._session:
            return told  # an earlier recording, which is kept and that is all
        for number, line in enumerate(lines, start=first):
            if b'"type":"data"' in line:  # nearly all of them; and none of them is news
                continue
            for event in self._read(line):
                if isinstance(event, _Standing) and self._is_newest(event, number):
                    told += self._told(replace(event, t_ns=now_ns))
        return told

    def _read(self, line: bytes) -> Iterator[Event]:
        """Yield the event on a line, if it is one that this relay may tell."""
        try:
            event = decode_event(line)
            if event is not None:
                yield self._checked(event)
        except (RecordingError, MessageError) as error:
            self._refuse(f"a line that can't be used: {error}")

    def _is_news(self, event: Event, number: int, sent_ns: int) -> bool:
        if isinstance(event, _Standing):
            return self._is_newest(event, number)
        if sent_ns - LATE_NS <= event.t_ns <= sent_ns:
            return True
        self._refuse("a line whose time is not the time when it was sent")
        return False

    def _is_newest(self, event: _Standing, number: int) -> bool:
        key = _about(event)
        if number <= self._applied.get(key, 0):
            return False
        self._applied[key] = number
        return True

    def _told(self, event: Event) -> list[Event]:
        """Return what the session is to be told, and keep in mind which links are open."""
        match event:
            case LinkUp():
                self._linked[event.sensor] = None
            case LinkDown():
                self._linked.pop(event.sensor, None)
            case Gap():
                linked = list(self._linked)
                down = self._all_down(event.t_ns)
                self._linked = dict.fromkeys(linked)
                return [*down, *(LinkUp(event.t_ns, sensor) for sensor in linked)]
            case End():
                return self._all_down(event.t_ns)
        return [event]

    def _all_down(self, t_ns: int) -> list[Event]:
        linked, self._linked = self._linked, {}
        return [LinkDown(t_ns, sensor, f"relay {self._relay}") for sensor in linked]

    def _check_head(self, head: Head) -> None:
        texts = dict(head.adapters)
        for athlete in head.athletes:
            self._check_id(athlete.athlete)
        for sensor in head.sensors:
            self._check_id(sensor.sensor)
            _check_adapter(sensor.adapter, texts)
        for assigned in head.assigned:
            self._checked(assigned)

    def _checked(self, event: Event) -> Event:
        """Return the event, complete, if it is about this relay's own.

        Raises:
            MessageError: it isn't.
        """
        match event:
            case Notification() | LinkUp() | LinkDown():
                self._check_id(event.sensor)
            case Assigned():
                self._check_id(event.sensor)
                if event.athlete is not None:
                    self._check_id(event.athlete)
            case AthleteChanged():
                self._check_id(event.athlete.athlete)
            case Mark():
                self._check_id(event.mark)
                self._check_id(event.athlete or "everybody")
            case SensorAdded():
                self._check_id(event.sensor.sensor)
                return self._with_text(event)
        return event

    def _with_text(self, event: SensorAdded) -> SensorAdded:
        """Return the event with the adapter's text, so that no other relay's is taken for it."""
        head = self._heads.get(self._session)
        texts = {} if head is None else dict(head.adapters)
        if event.sensor.adapter is not None and event.adapter_text is not None:
            texts[event.sensor.adapter] = event.adapter_text
        _check_adapter(event.sensor.adapter, texts)
        text = None if event.sensor.adapter is None else texts[event.sensor.adapter]
        return replace(event, adapter_text=text)

    def _check_id(self, found: str) -> None:
        if relay_of(found) != self._relay:
            raise MessageError(f"{found[:60]!r} is not its own")


def _kit(before: Head | None, head: Head, now_ns: int) -> Iterator[Event]:
    """Yield who is there and what they wear, and what they no longer do."""
    texts, still = dict(head.adapters), {sensor.sensor for sensor in head.sensors}
    for athlete in head.athletes:
        yield AthleteChanged(now_ns, athlete)
    for sensor in () if before is None else before.sensors:
        if sensor.sensor not in still:
            yield Assigned(now_ns, sensor.sensor, None)
    for sensor in head.sensors:
        text = None if sensor.adapter is None else texts[sensor.adapter]
        yield SensorAdded(now_ns, sensor, text)
    for assigned in head.assigned:
        yield replace(assigned, t_ns=now_ns)


def _check_adapter(name: str | None, texts: dict[str, str]) -> None:
    """Refuse an adapter that the core could not read.

    Raises:
        MessageError: it can't.
    """
    if name is None:
        return
    if name not in texts:
        raise MessageError(f"a sensor read by {name[:60]!r}, an adapter that it does not send")
    try:
        parse_adapter(texts[name], where=name)
    except AdapterError as error:
        raise MessageError(f"an adapter that can't be used: {error}") from error


def _about(event: _Standing) -> tuple[str, str]:
    """Return what the event tells the present state of."""
    match event:
        case LinkUp() | LinkDown():
            return "link", event.sensor
        case Assigned():
            return "worn", event.sensor
        case SensorAdded():
            return "sensor", event.sensor.sensor
        case AthleteChanged():
            return "athlete", event.athlete.athlete


def _moved(event: Event, offset_ns: int) -> Event:
    """Return the event in the hub's time."""
    t_ns = max(0, event.t_ns + offset_ns)
    if isinstance(event, Mark) and event.at_ns is not None:
        return replace(event, t_ns=t_ns, at_ns=max(0, event.at_ns + offset_ns))
    return replace(event, t_ns=t_ns)
