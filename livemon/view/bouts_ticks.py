"""Round places on an axis and what stands there: values, times in a bout, days."""

from datetime import UTC, datetime
from math import ceil, floor, isfinite, log10
from typing import Final

from livemon.tongue import marked, said
from livemon.view.numbers import MINUS, clock

#: (place, label), rising.
Ticks = tuple[tuple[float, str], ...]

_TIME_STEPS_S: Final = (1, 2, 5, 10, 30, 60, 120, 300, 600, 1200, 3600)
_DAY_S: Final = 86_400
_DAY_STEPS: Final = (1, 2, 7, 14, 30, 60, 90, 180, 365, 730, 1825)
_MOST_EVER: Final = 60
#: Python's own names of months follow another setting than our words.
MONTHS: Final = (
    marked("Jan"),
    marked("Feb"),
    marked("Mar"),
    marked("Apr"),
    marked("May"),
    marked("Jun"),
    marked("Jul"),
    marked("Aug"),
    marked("Sep"),
    marked("Oct"),
    marked("Nov"),
    marked("Dec"),
)


def value_ticks(low: float, high: float, most: int) -> Ticks:
    """Return round values inside the range, `most` of them or fewer."""
    if not (isfinite(low) and isfinite(high)) or high <= low or most < 1:
        return ()
    power = 10.0 ** floor(log10((high - low) / most))
    step = next(f * power for f in (1, 2, 4, 5, 10, 20) if (high - low) / (f * power) <= most)
    decimals = max(-floor(log10(step)), 0)
    return tuple((v, _number(v, decimals)) for v in _multiples(low, high, step))


def time_ticks(low: float, high: float, most: int) -> Ticks:
    """Return round times inside the range, in seconds from the start, as minutes and seconds."""
    if not (isfinite(low) and isfinite(high)) or high <= low or most < 1:
        return ()
    step = next((s for s in _TIME_STEPS_S if (high - low) / s <= most), _TIME_STEPS_S[-1])
    return tuple((t, _time(t)) for t in _multiples(low, high, step))


def day_ticks(low: float, high: float, most: int) -> Ticks:
    """Return days inside the range of seconds since 1970, with their dates."""
    if not (isfinite(low) and isfinite(high)) or high <= low or most < 1:
        return ()
    days = (high - low) / _DAY_S
    step = next((s for s in _DAY_STEPS if days / s <= most), _DAY_STEPS[-1]) * _DAY_S
    return tuple((t, _date(t)) for t in _multiples(low, high, step))


def _multiples(low: float, high: float, step: float) -> tuple[float, ...]:
    spare = (high - low) * 1e-9  # an end that is a multiple stays one after rounding
    first, last = ceil((low - spare) / step), floor((high + spare) / step)
    return tuple(n * step for n in range(first, min(last, first + _MOST_EVER) + 1))


def _date(at_s: float) -> str:
    day = datetime.fromtimestamp(at_s, UTC)
    month = said(MONTHS[day.month - 1])
    return said("{day} {month} {year}", day=f"{day:%d}", month=month, year=f"{day:%y}")


def _number(value: float, decimals: int) -> str:
    text = f"{value:.{decimals}f}"
    return (text.lstrip("-") if float(text) == 0 else text).replace("-", MINUS)


def _time(t_s: float) -> str:
    return f"{MINUS}{clock(-t_s)}" if t_s < 0 else clock(t_s)
