"""A recording in the time of another: its events moved, and its marks' ids kept apart."""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from livemon.events import AthleteChanged, Event, Mark, MarkValue, SensorAdded
from livemon.record.reader import Recording


def moved(later: Recording, offset_ns: int, marks: Mapping[str, Mark]) -> Iterator[Event]:
    """Yield the events of `later`, begun `offset_ns` after the other; first what its head says.

    `marks` are those of the other recording, by id. One that both hold stays the same; one of the
    same id that says something else is given a new id, also where it is referred to.
    """
    head, texts = later.head, dict(later.head.adapters)
    for athlete in head.athletes:
        yield AthleteChanged(offset_ns, athlete)
    for sensor in head.sensors:
        text = None if sensor.adapter is None else texts.get(sensor.adapter)
        yield SensorAdded(offset_ns, sensor, text)
    for assigned in head.assigned:
        yield replace(assigned, t_ns=assigned.t_ns + offset_ns)
    names = _new_names(later, offset_ns, marks)
    for event in later.events():
        if isinstance(event, Mark):
            yield _renamed(_moved_mark(event, offset_ns), names)
        else:
            yield replace(event, t_ns=event.t_ns + offset_ns)


def _new_names(later: Recording, offset_ns: int, marks: Mapping[str, Mark]) -> dict[str, str]:
    ours = [event for event in later.events() if isinstance(event, Mark)]
    used = {*marks, *(mark.mark for mark in ours)}
    names: dict[str, str] = {}
    for mark in ours:
        other = marks.get(mark.mark)
        if other is None or other == _moved_mark(mark, offset_ns) or mark.mark in names:
            continue
        number = 2
        while f"{mark.mark}-{number}" in used:
            number += 1
        names[mark.mark] = f"{mark.mark}-{number}"
        used.add(names[mark.mark])
    return names


def _moved_mark(mark: Mark, offset_ns: int) -> Mark:
    at_ns = None if mark.at_ns is None else mark.at_ns + offset_ns
    return replace(mark, t_ns=mark.t_ns + offset_ns, at_ns=at_ns)


def _renamed(mark: Mark, names: Mapping[str, str]) -> Mark:
    return replace(
        mark,
        mark=names.get(mark.mark, mark.mark),
        replaces=None if mark.replaces is None else names.get(mark.replaces, mark.replaces),
        details=tuple((key, _reference(key, value, names)) for key, value in mark.details),
    )


def _reference(key: str, value: MarkValue, names: Mapping[str, str]) -> MarkValue:
    """Return the new name where a detail refers to a mark."""
    return names.get(value, value) if key == "bout" and isinstance(value, str) else value
