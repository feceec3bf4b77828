"""Power, speed, cadence, arterial saturation in words: value, unit, and the age if it is old."""

from typing import Final

from livemon.decode.samples import IntensitySource
from livemon.monitor.snapshot import ArterialState, EffortState, LaneState, Trust
from livemon.series.effort import Effort
from livemon.tongue import marked, said
from livemon.view.model import EffortModel, Tone
from livemon.view.numbers import DASH, MINUS, span, whole
from livemon.view.words import TONE

_NAMES: Final = {
    Effort.POWER: marked("Power"),
    Effort.SPEED: marked("Speed"),
    Effort.CADENCE: marked("Cadence"),
    Effort.DISTANCE: marked("Distance"),
    Effort.INCLINE: marked("Incline"),
}

#: What a cadence counts.
_COUNTED: Final = {
    IntensitySource.RUNNING: marked("steps/min"),
    IntensitySource.CYCLING: marked("rev/min"),
    IntensitySource.TREADMILL: marked("steps/min"),
    IntensitySource.ROWER: marked("strokes/min"),
    IntensitySource.INDOOR_BIKE: marked("rev/min"),
    IntensitySource.CROSS_TRAINER: marked("steps/min"),
}

_KM_FROM_M: Final = 10_000.0
_HARD_SPACE: Final = "\N{NO-BREAK SPACE}"


def effort_models(lane: LaneState) -> tuple[EffortModel, ...]:
    """Word what was measured, in the order in which it is read: power and speed first."""
    told = tuple(_effort(state) for state in lane.effort)
    return told if lane.arterial is None else (*told, _arterial(lane.arterial))


def main_effort(lane: LaneState) -> EffortModel | None:
    """Return the one quantity that a strip has room for: power, or else speed, or else cadence."""
    for state in lane.effort:
        if state.effort in {Effort.POWER, Effort.SPEED, Effort.CADENCE}:
            return _effort(state)
    return None


def _effort(state: EffortState) -> EffortModel:
    number, unit = _number(state)
    return EffortModel(said(_NAMES[state.effort]), f"{number}{_HARD_SPACE}{unit}", *_age(state))


def _number(state: EffortState) -> tuple[str, str]:
    value = state.value
    match state.effort:
        case Effort.POWER:
            return whole(value), "W"
        case Effort.SPEED:
            return f"{value:.2f}", "m/s"
        case Effort.CADENCE:
            return whole(value), said(_COUNTED[state.source])
        case Effort.DISTANCE:
            if value >= _KM_FROM_M:
                return f"{value / 1000:.1f}", "km"
            return whole(value), "m"
        case Effort.INCLINE:
            return said("incline {slope}", slope=f"{value:.1f}".replace("-", MINUS)), "%"


def _arterial(state: ArterialState) -> EffortModel:
    name = "SpO₂"
    if state.trust is Trust.SUSPECT:
        return EffortModel(name, f"{name}{_HARD_SPACE}{DASH}", Tone.FAULT, said("doubtful"))
    if state.spo2_pct is None:
        return EffortModel(name, f"{name}{_HARD_SPACE}{DASH}", Tone.ABSENT, "")
    text = f"{name} {whole(state.spo2_pct)}{_HARD_SPACE}%"
    return EffortModel(name, text, *_age(state))


def _age(state: EffortState | ArterialState) -> tuple[Tone, str]:
    """Return the tone, and how old the value is where that has to be said."""
    if state.trust is Trust.STALE and state.age_s is not None:
        return Tone.OLD, said("{time} ago", time=span(state.age_s))
    return TONE[state.trust], ""
