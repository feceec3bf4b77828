"""Give records the drain warnings that the recording says were shown."""

from collections.abc import Sequence
from dataclasses import replace

from livemon.analyse.session import AthleteRecord
from livemon.analyse.warned import Warned
from livemon.record.warning_log import Logged
from livemon.warn.priority import Priority

_NS_PER_S = 1e9
_WARNINGS = {Priority.CAUTION.value, Priority.DRAIN.value}  # information is shown, never announced


def with_warnings(record: AthleteRecord, athlete: str, log: Sequence[Logged]) -> AthleteRecord:
    """Return the record of the athlete with this id, with their warnings."""
    found = tuple(
        Warned(
            one.on.t_ns / _NS_PER_S,
            one.on.site or "",
            one.on.fall_rate_pct_per_min,
            one.on.falling_for_s,
            one.on.bpm,
        )
        for one in log
        if one.on.athlete == athlete and one.highest in _WARNINGS
    )
    return replace(record, warnings=found)
