"""The bout clock in words and numbers."""

from typing import Final

from livemon.monitor.snapshot import BoutState
from livemon.view.model import ClockModel
from livemon.view.numbers import clock

#: Outside of bouts.
NO_BOUT: Final = ClockModel("", "", "")


def clock_model(bout: BoutState | None, t_s: float) -> ClockModel:
    """Word the bout or recovery that goes on at `t_s`."""
    if bout is None:
        return NO_BOUT
    if bout.resting:
        title = f"Recovery after bout {bout.number}"
    else:
        title = f"Bout {bout.number}" + (f" · {bout.kind}" if bout.kind else "")
    planned = "" if bout.planned_s is None else f"/ {clock(bout.planned_s)}"
    return ClockModel(title, clock(t_s - bout.started_s), planned)
