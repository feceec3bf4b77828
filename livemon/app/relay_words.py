"""How a relay stands, on one line and in plain words."""

from dataclasses import dataclass, replace
from typing import Final

from livemon.monitor.snapshot import SessionSnapshot

#: A second or two of one adapter's sensors: the hub says once a second what it has.
_UNDER_WAY: Final = 200


@dataclass(frozen=True, slots=True)
class RelayStanding:
    """What there is to say.

    Attributes:
        sensors: how many there are, and how many of them are linked; None where nobody counts,
            because a recording is played.
        trouble: what is wrong with the connection to the broker; empty if nothing is.
        heard: whether a hub has answered.
        behind: lines that the hub doesn't have yet.
        notices: of the recording, and of Bluetooth.
    """

    sensors: tuple[int, int] | None
    trouble: str
    heard: bool
    behind: int
    notices: tuple[str, ...]

    @property
    def lags(self) -> bool:
        """Whether more lines wait than are just under way."""
        return self.behind >= _UNDER_WAY

    def like(self, other: "RelayStanding | None") -> bool:
        """Tell whether there is nothing new to say: how many lines wait is no news."""
        return (
            other is not None
            and self.lags == other.lags
            and self == replace(other, behind=self.behind)
        )


def linked_sensors(snapshot: SessionSnapshot | None) -> tuple[int, int]:
    """Return how many sensors are worn, and how many of them are linked."""
    worn = [] if snapshot is None else [one for lane in snapshot.lanes for one in lane.sensors]
    return len(worn), sum(sensor.linked for sensor in worn)


def relay_line(standing: RelayStanding) -> str:
    """Say it."""
    parts = [_sensors(standing.sensors), _broker(standing), *standing.notices]
    return " · ".join(part for part in parts if part)


def _sensors(counted: tuple[int, int] | None) -> str:
    if counted is None:
        return "playing a recording"
    worn, linked = counted
    if worn == linked:
        return f"all {worn} sensors linked" if worn != 1 else "the sensor is linked"
    return f"{linked} of {worn} sensors linked"


def _broker(standing: RelayStanding) -> str:
    if standing.trouble:
        waiting = f"; {standing.behind:,} lines wait" if standing.behind else ""
        return f"NOT SENT: {standing.trouble}{waiting}"
    if not standing.heard:
        return "connected, no hub listens yet"
    if standing.lags:
        return f"connected, the hub lacks {standing.behind:,} lines"
    return "the hub keeps up" if standing.behind else "the hub has all"
