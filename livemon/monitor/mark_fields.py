"""What each kind of mark can say: the one table behind entry forms, checks and help.

Limits keep typing mistakes out; they judge nobody. Where no source is named, a limit is common
practice: wide enough for anything a person does, narrow enough to catch a slipped decimal point.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType
from typing import Final


class MarkKind(StrEnum):
    """The kinds of marks that livemon acts on; recordings may hold others."""

    BOUT_START = "bout_start"
    BOUT_END = "bout_end"
    RECOVERY_START = "recovery_start"  #: ends the bout, too
    RECOVERY_END = "recovery_end"
    WARM_UP_START = "warm_up_start"
    WARM_UP_END = "warm_up_end"
    BASELINE_START = "baseline_start"
    BASELINE_END = "baseline_end"
    BASELINE_RESULT = "baseline_result"
    BAND = "band"  #: the heart-rate band to hold from now on; without values, none
    WORK = "work"
    LOAD = "load"
    REPETITIONS = "repetitions"
    DISTANCE = "distance"
    RPE = "rpe"
    LACTATE = "lactate"
    NOTE = "note"
    PLAN = "plan"  #: a plan's step begins; without a step, the plan is over
    WITHDRAWN = "withdrawn"  #: takes back the mark that it replaces


@dataclass(frozen=True, slots=True)
class NumberField:
    """A number with its unit."""

    key: str
    label: str
    unit: str
    low: float
    high: float
    whole: bool = False
    required: bool = False
    words: tuple[str, ...] = ()  #: texts that may stand instead of a number


@dataclass(frozen=True, slots=True)
class TextField:
    """A text, on one line; one of `choices` if there are any."""

    key: str
    label: str
    longest: int
    choices: tuple[str, ...] = ()
    required: bool = False


Field = NumberField | TextField

#: What an athlete says on Borg's CR10 scale who finds no number high enough ("•" on the scale).
ABSOLUTE_MAXIMUM: Final = "absolute maximum"

#: Blood from these differs, so only samples from one place are compared
#: (Feliu et al. 1999, J Physiol Biochem 55:333; Moran et al. 2012, J Strength Cond Res 26:563).
SAMPLING_SITES: Final = ("earlobe", "fingertip", "toe", "vein")

_OF_BOUT: Final = TextField("bout", "bout", 64)  # id of the mark that began it
_WORK: Final = TextField("work", "kind of work", 60)
_PLANNED_S: Final = NumberField("planned_s", "planned time", "s", 1, 86_400)
_PLANNED_M: Final = NumberField("planned_m", "planned distance", "m", 1, 500_000)
_LOW_BPM: Final = NumberField("low_bpm", "lower edge", "bpm", 30, 250, whole=True)
_REFILL_PCT: Final = NumberField("refill_pct", "refilling to end at", "% of baseline", 10, 150)
_HIGH_BPM: Final = NumberField("high_bpm", "upper edge", "bpm", 30, 250, whole=True)

FIELDS: Final[Mapping[MarkKind, tuple[Field, ...]]] = MappingProxyType(
    {
        MarkKind.BOUT_START: (_WORK, _PLANNED_S, _PLANNED_M, _LOW_BPM, _HIGH_BPM),
        MarkKind.BOUT_END: (),
        MarkKind.RECOVERY_START: (_PLANNED_S, _REFILL_PCT),
        MarkKind.RECOVERY_END: (),
        MarkKind.WARM_UP_START: (_PLANNED_S,),
        MarkKind.WARM_UP_END: (),
        MarkKind.BASELINE_START: (_PLANNED_S,),
        MarkKind.BASELINE_END: (),
        MarkKind.BASELINE_RESULT: (
            TextField("site", "muscle site", 60, required=True),
            NumberField("smo2_pct", "SmO2", "%", 0, 100, required=True),
        ),
        MarkKind.BAND: (_LOW_BPM, _HIGH_BPM),
        MarkKind.WORK: (TextField("work", "kind of work", 60, required=True), _OF_BOUT),
        MarkKind.LOAD: (
            NumberField("load_kg", "load", "kg", 0, 1_000),
            NumberField("load_w", "power", "W", 0, 3_000),
            NumberField("speed_km_h", "speed", "km/h", 0, 80),
            NumberField("speed_m_s", "speed", "m/s", 0, 22),
            _OF_BOUT,
        ),
        MarkKind.REPETITIONS: (
            NumberField("repetitions", "repetitions", "", 1, 10_000, whole=True, required=True),
            _OF_BOUT,
        ),
        MarkKind.DISTANCE: (
            NumberField("distance_m", "distance", "m", 1, 500_000, required=True),
            _OF_BOUT,
        ),
        # Borg's CR10 scale: 0 "nothing at all" to 10 "extremely strong", decimals allowed, and
        # open above by one point that has no number (G. Borg, Borg's Perceived Exertion and Pain
        # Scales, 1998; from memory). 11 to 20 are refused, since they may be meant on the other
        # scale of his, which runs from 6 to 20.
        MarkKind.RPE: (
            NumberField(
                "rpe_cr10", "RPE (Borg CR10)", "", 0, 10, required=True, words=(ABSOLUTE_MAXIMUM,)
            ),
            _OF_BOUT,
        ),
        # Peaks of 15 to 25 mmol/L follow all-out work (Goodwin et al. 2007, J Diabetes Sci
        # Technol 1:558), rest is near 1; beyond 0.1 to 30 it is a slipped point or a bad strip.
        MarkKind.LACTATE: (
            NumberField("lactate_mmol_l", "lactate", "mmol/L", 0.1, 30, required=True),
            TextField("sampling_site", "sampling site", 20, SAMPLING_SITES),
            _OF_BOUT,
        ),
        MarkKind.NOTE: (TextField("text", "note", 500, required=True), _OF_BOUT),
        MarkKind.PLAN: (
            TextField("plan", "plan", 80),
            NumberField("step", "step", "", 1, 10_000, whole=True),
            NumberField("steps", "steps in all", "", 1, 10_000, whole=True),
            TextField("now", "this step", 200),
            TextField("following", "next step", 200),
            _PLANNED_S,
            _REFILL_PCT,
        ),
        MarkKind.WITHDRAWN: (),
    }
)

#: Loads come in one of these; the first that a mark holds counts.
LOAD_UNITS: Final = tuple(
    (field.key, field.unit) for field in FIELDS[MarkKind.LOAD] if isinstance(field, NumberField)
)
