"""Packets that the air broke cost themselves and nothing else."""

from livemon.decode.heart_rate import HEART_RATE_MEASUREMENT
from livemon.events import Assigned, Athlete, Head, Notification, Sensor
from livemon.monitor.session import Session

SECOND_NS = 1_000_000_000
HEAD = Head(
    "2026-11-25T10:00:00+00:00",
    "s",
    athletes=(Athlete("a1", "Ada"), Athlete("a2", "Bo")),
    sensors=(Sensor("strap-1", "one"), Sensor("strap-2", "two")),
    assigned=(Assigned(0, "strap-1", "a1"), Assigned(0, "strap-2", "a2")),
)
PACKETS, EVERY = 70, 7


def test_every_seventh_is_counted_and_the_stream_goes_on() -> None:
    session = Session(HEAD)
    shown: list[tuple[float | None, ...]] = []
    for number in range(PACKETS):
        broken = number % EVERY == EVERY - 1
        bpm = 120 + number // EVERY
        for sensor in ("strap-1", "strap-2"):
            # 0x01 promises 16 bits of heart rate, and only eight follow.
            cut = broken and sensor == "strap-1"
            payload = bytes((0x01 if cut else 0x06, bpm))
            at_ns = (number + 1) * SECOND_NS
            session.feed(Notification(at_ns, sensor, HEART_RATE_MEASUREMENT, payload))
        shown.append(tuple(lane.state.heart_rate.bpm for lane in session.snapshot().lanes))

    assert session.snapshot().rejected == (("ends before heart rate", PACKETS // EVERY),)
    assert shown == [(120 + number // EVERY,) * 2 for number in range(PACKETS)]
