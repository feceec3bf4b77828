"""Lanes without any data, for tests of what is done with athletes as such."""

from livemon.events import Athlete, Head
from livemon.monitor.session import Session
from livemon.monitor.snapshot import LaneState


def lane(athlete: str) -> LaneState:
    head = Head("2026-11-25T10:00:00+00:00", "s", (Athlete(athlete, athlete.upper()),), ())
    return Session(head).snapshot().lanes[0]
