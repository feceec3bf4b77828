"""Short recordings for the library's tests; invented."""

from pathlib import Path

from livemon.events import (
    Assigned,
    Athlete,
    AthleteChanged,
    End,
    Event,
    Head,
    LinkDown,
    LinkUp,
    Mark,
    Notification,
    Sensor,
    SensorAdded,
)
from livemon.record.at_once import write_recording

S = 1_000_000_000
HEART_RATE = "00002a37-0000-1000-8000-00805f9b34fb"

HEAD = Head(
    "2026-11-25T10:00:00+00:00",
    "k3f9",
    (Athlete("a1", "Zoë Invented", (150, 158), None, (("left thigh", 31.5),)),),
    (Sensor("belt", "Belt of Zoë"), Sensor("oxi", "Oximeter", "plain")),
    (("plain", "# invented\n"),),
    (Assigned(0, "belt", "a1"), Assigned(0, "oxi", "a1", ("left thigh",))),
)

EVENTS: tuple[Event, ...] = (
    LinkUp(1, "belt"),
    Notification(1 * S, "belt", HEART_RATE, b"\x06\x3c"),
    Mark(2 * S, "m1", "a1", "bout_start", (("work", "row"), ("planned_s", 240))),
    Notification(3 * S, "oxi", HEART_RATE, b"\x06\x3d"),
    Mark(242 * S, "m2", "a1", "recovery_start"),
    Mark(250 * S, "m3", None, "rpe", (("rpe_cr10", 7.0), ("bout", "m1"))),
    Mark(251 * S, "m4", "a1", "note", (("text", "Zoë's knee again"),), 200 * S),
    LinkDown(260 * S, "belt", "AA:BB:CC:DD:EE:FF is out of reach"),
    AthleteChanged(261 * S, Athlete("a2", "Yan Invented")),
    SensorAdded(262 * S, Sensor("belt2", "Belt of Yan"), None),
    Assigned(263 * S, "belt2", "a2"),
    Mark(264 * S, "m5", "a1", "rpe", (("rpe_cr10", 8.0),), 250 * S, "m3"),
    Notification(300 * S, "belt2", HEART_RATE, b"\x06\x3e"),
    End(301 * S),
)


def session(path: Path, head: Head = HEAD, events: tuple[Event, ...] = EVENTS) -> Path:
    """Write a recording."""
    write_recording(path, head, events)
    return path
