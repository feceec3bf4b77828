"""An event is one line of JSON, in a recording, in a fixture and on the network alike.

    {"t_ns":1200000000,"type":"data","sensor":"belt","char":"2a37","hex":"063c"}

The same event always gives the same bytes. Keys that a later version added are ignored, and
types it added are skipped. docs/recording-format.md describes every key. Nothing here knows
files or what the bytes of a sensor mean.
"""

import json
from collections.abc import Callable
from functools import lru_cache
from math import isfinite
from types import MappingProxyType
from typing import Final

from livemon.events import (
    Assigned,
    AthleteChanged,
    End,
    Event,
    Gap,
    LinkDown,
    LinkUp,
    Mark,
    MarkValue,
    Notification,
    SensorAdded,
)
from livemon.record.jsonline import (
    Record,
    brief,
    dump,
    free_text,
    free_text_or_none,
    load,
    problem,
    table,
    text,
    text_or_none,
    whole,
    whole_or_none,
)
from livemon.record.kit import (
    assigned_record,
    athlete_record,
    read_assigned,
    read_athlete,
    read_sensor,
    sensor_record,
)
from livemon.record.uuid_digits import long_uuid, short_uuid


def encode_event(event: Event) -> str:
    """Return `event` as its line, without the newline.

    Raises:
        RecordingError: it holds what no line can: NaN, a key twice, an impossible UUID.
    """
    if not isinstance(event, Notification):
        return dump(_record(event))
    try:
        char = short_uuid(event.characteristic)
    except ValueError as error:
        raise problem("char", f"{brief(event.characteristic)} is not a UUID") from error
    # Thousands of these for one of any other, so they are put together by hand.
    return (
        f'{{"t_ns":{event.t_ns},"type":"data","sensor":{_quoted(event.sensor)},'
        f'"char":"{char}","hex":"{event.payload.hex()}"}}'
    )


def decode_event(line: bytes | str) -> Event | None:
    """Return the event on `line`; None if it is of another type, as in side_lines.py or later ones.

    Raises:
        RecordingError: the line is damaged; `path` names the key, `problem` what is wrong.
    """
    record = load(line)
    kind = record.get("type")
    if type(kind) is not str:
        raise problem("type", f"expected text, found {brief(kind)}")
    read = _READ.get(kind)
    return None if read is None else read(record)


def _record(event: Event) -> Record:
    match event:
        case LinkUp():
            return {"t_ns": event.t_ns, "type": "link_up", "sensor": event.sensor}
        case LinkDown():
            lost: Record = {"t_ns": event.t_ns, "type": "link_down", "sensor": event.sensor}
            return lost | {"reason": event.reason}
        case SensorAdded():
            added: Record = {"t_ns": event.t_ns, "type": "sensor"}
            return added | sensor_record(event.sensor) | {"adapter_text": event.adapter_text}
        case AthleteChanged():
            changed: Record = {"t_ns": event.t_ns, "type": "athlete"}
            return changed | athlete_record(event.athlete)
        case Assigned():
            return assigned_record(event)
        case Mark():
            return _mark_record(event)
        case Gap():
            gap: Record = {"t_ns": event.t_ns, "type": "gap", "missed_ns": event.missed_ns}
            return gap | {"reason": event.reason}
        case End():
            return {"t_ns": event.t_ns, "type": "end"}
    raise problem("", f"{type(event).__name__} is not an event")


def _mark_record(mark: Mark) -> Record:
    details = dict(mark.details)
    if len(details) != len(mark.details):
        raise problem("details", "a key stands there twice")
    return {
        "t_ns": mark.t_ns,
        "type": "mark",
        "mark": mark.mark,
        "athlete": mark.athlete,
        "kind": mark.kind,
        "details": details,
        "at_ns": mark.at_ns,
        "replaces": mark.replaces,
    }


def _read_data(record: Record) -> Notification:
    try:
        payload = bytes.fromhex(record["hex"])
    except (KeyError, TypeError, ValueError) as error:
        raise problem("hex", f"expected bytes, found {brief(record.get('hex'))}") from error
    try:
        characteristic = long_uuid(record["char"])
    except (KeyError, TypeError, ValueError, AttributeError) as error:
        raise problem("char", f"expected a UUID, found {brief(record.get('char'))}") from error
    return Notification(_t_ns(record), text(record, "sensor"), characteristic, payload)


def _read_link_up(record: Record) -> LinkUp:
    return LinkUp(_t_ns(record), text(record, "sensor"))


def _read_link_down(record: Record) -> LinkDown:
    return LinkDown(_t_ns(record), text(record, "sensor"), free_text(record, "reason"))


def _read_sensor_added(record: Record) -> SensorAdded:
    return SensorAdded(
        _t_ns(record), read_sensor(record), free_text_or_none(record, "adapter_text")
    )


def _read_athlete_changed(record: Record) -> AthleteChanged:
    return AthleteChanged(_t_ns(record), read_athlete(record))


def _read_mark(record: Record) -> Mark:
    return Mark(
        _t_ns(record),
        text(record, "mark"),
        text_or_none(record, "athlete"),
        text(record, "kind"),
        tuple((key, _mark_value(key, value)) for key, value in table(record, "details").items()),
        whole_or_none(record, "at_ns"),
        text_or_none(record, "replaces"),
    )


def _mark_value(key: str, value: object) -> MarkValue:
    if value is None or type(value) is str or type(value) is int:
        return value
    if type(value) is float and isfinite(value):  # 1e999 is JSON, and infinite
        return value
    raise problem(f"details.{key}", f"expected text, a number or null, found {brief(value)}")


def _read_gap(record: Record) -> Gap:
    return Gap(_t_ns(record), whole(record, "missed_ns", 0), free_text(record, "reason"))


def _read_end(record: Record) -> End:
    return End(_t_ns(record))


def _t_ns(record: Record) -> int:
    return whole(record, "t_ns", 0)


@lru_cache(maxsize=256)
def _quoted(sensor: str) -> str:
    return json.dumps(sensor)


_READ: Final = MappingProxyType[str, Callable[[Record], Event]](
    {
        "data": _read_data,
        "link_up": _read_link_up,
        "link_down": _read_link_down,
        "sensor": _read_sensor_added,
        "athlete": _read_athlete_changed,
        "assigned": read_assigned,
        "mark": _read_mark,
        "gap": _read_gap,
        "end": _read_end,
    }
)
