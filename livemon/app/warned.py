"""What the core tells of warnings, as lines for the recording."""

from collections.abc import Iterable, Iterator
from typing import Final

from livemon.monitor.changes import WarningOff, WarningOn, WarningRaised
from livemon.monitor.session import Told
from livemon.record.warning_lines import Happened, WarningLine

_NS_PER_S: Final = 1_000_000_000


def warning_lines(told: Iterable[Told]) -> Iterator[WarningLine]:
    """Yield a line for each warning that came on, became worse, or went off."""
    for athlete, change in told:
        match change:
            case WarningOn():
                yield WarningLine(
                    t_ns=_ns(change.t_s),
                    what=Happened.ON,
                    athlete=athlete,
                    site=change.site,
                    priority=change.priority.value,
                    fall_rate_pct_per_min=change.fall_rate_pct_per_min,
                    falling_for_s=change.falling_for_s,
                    bpm=change.bpm,
                )
            case WarningRaised():
                yield WarningLine(
                    _ns(change.t_s),
                    Happened.RAISED,
                    athlete,
                    change.site,
                    change.priority.value,
                )
            case WarningOff():
                yield WarningLine(
                    _ns(change.t_s), Happened.OFF, athlete, change.site, reason=change.reason
                )


def _ns(t_s: float) -> int:
    return round(t_s * _NS_PER_S)
