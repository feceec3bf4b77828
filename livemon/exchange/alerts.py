"""Rows of drain warnings: one for each, from what a replayed session told."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from livemon.exchange.table import Row
from livemon.exchange.who import Who
from livemon.monitor.changes import Change, WarningOff, WarningOn, WarningRaised
from livemon.warn.priority import Priority

_NS_PER_S: Final = 1e9


@dataclass(slots=True)
class _Warning:
    athlete: str
    began: WarningOn
    priority: Priority
    off: WarningOff | None = None


def warning_rows(told: Iterable[tuple[str, Change]], who: Who, end_ns: int) -> list[Row]:
    """Return the rows of `tables.WARNINGS`, oldest first; what is still on ends at `end_ns`."""
    warnings: list[_Warning] = []
    on: dict[tuple[str, str], _Warning] = {}
    for athlete, change in told:
        place = athlete, change.site
        match change:
            case WarningOn():
                on[place] = _Warning(athlete, change, change.priority)
                warnings.append(on[place])
            case WarningRaised() if place in on:
                on[place].priority = change.priority
            case WarningOff() if place in on:
                on.pop(place).off = change
    wanted = [warning for warning in warnings if who.wanted(warning.athlete)]
    wanted.sort(key=lambda warning: warning.began.t_s)
    return [_row(warning, who, end_ns) for warning in wanted]


def _row(warning: _Warning, who: Who, end_ns: int) -> Row:
    began, off = warning.began, warning.off
    return (
        round(began.t_s * _NS_PER_S),
        end_ns if off is None else round(off.t_s * _NS_PER_S),
        warning.athlete,
        who.name(warning.athlete),
        began.site,
        warning.priority.value,
        float(began.fall_rate_pct_per_min),
        float(began.falling_for_s),
        None if began.bpm is None else float(began.bpm),
        None if off is None else off.reason,
    )
