"""An invented class of two, Ada and Bo, as head and events. Nobody was measured.

Each wears a belt (150 bpm at work, 100 at rest) and an oximeter: 70 % at rest; Ada's falls to 60 %
at once, Bo's to 50 %. Two bouts of four minutes, four minutes apart.
"""

from collections.abc import Iterator
from importlib.resources import files

from livemon.events import Assigned, Athlete, Event, Head, Mark, Notification, Sensor

HEART_RATE = "00002a37-0000-1000-8000-00805f9b34fb"
OXIMETER = "aac41a88-f6e3-4dca-a514-e1a92ecef3af"  # of the invented adapter
WORK_S, REST_S, FIRST_S, BOUTS = 240, 240, 120, 2
LOW_PCT = {"a1": 60, "a2": 50}
NS = 1_000_000_000


def class_recording(title: str = "class") -> tuple[Head, Iterator[Event]]:
    """Return head and events of the session."""
    adapter = files("livemon.adapters").joinpath("invented-demo.toml").read_text(encoding="utf-8")
    people = (Athlete("a1", "Ada", (140, 160)), Athlete("a2", "Bo", (140, 160)))
    sensors = [
        Sensor(f"{kind} {one.athlete}", kind, "invented-demo" if kind == "thigh" else None)
        for one in people
        for kind in ("belt", "thigh")
    ]
    worn = [
        Assigned(0, sensor.sensor, sensor.sensor.split()[1],
                 ("left thigh",) if sensor.name == "thigh" else ())
        for sensor in sensors
    ]  # fmt: skip
    head = Head(
        "2026-03-02T10:00:00+00:00", title, people, tuple(sensors), (("invented-demo", adapter),),
        tuple(worn),
    )  # fmt: skip
    return head, _events()


def _events() -> Iterator[Event]:
    for second in range(FIRST_S + BOUTS * (WORK_S + REST_S)):
        number, since = divmod(second - FIRST_S, WORK_S + REST_S)
        works = second >= FIRST_S and since < WORK_S
        t_ns = second * NS
        if second >= FIRST_S and since == 0:
            yield Mark(t_ns, f"s{number}", None, "bout_start", (("work", "rowing"),))
        if second >= FIRST_S and since == WORK_S:
            yield Mark(t_ns, f"e{number}", None, "bout_end")
        for athlete, low_pct in LOW_PCT.items():
            wobble = (second * 7 + low_pct) % 5 / 10 - 0.2
            pct = (low_pct if works else 70) + wobble
            bpm = bytes((6, 150 if works else 100))
            yield Notification(t_ns, f"belt {athlete}", HEART_RATE, bpm)
            packet = round(pct * 10).to_bytes(2, "little") + (1200).to_bytes(2, "little")
            counted = packet + bytes((second % 256, 1))
            yield Notification(t_ns + 1, f"thigh {athlete}", OXIMETER, counted)
