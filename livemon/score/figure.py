"""One published figure and its limit."""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure; `value` is None where nothing was there to be measured."""

    name: str
    value: float | None
    unit: str
    count: int  #: how many warnings, falls or moments it rests on
    at_most: float | None = None
    at_least: float | None = None

    @property
    def holds(self) -> bool | None:
        """Whether it keeps its limit; None where it has none or could not be measured."""
        if self.value is None or (self.at_most is None and self.at_least is None):
            return None
        return (self.at_least is None or self.value >= self.at_least) and (
            self.at_most is None or self.value <= self.at_most
        )


def per_hour(name: str, count: int, hours: float, at_most: float | None = None) -> Figure:
    """Return a rate; `count` is the number of events."""
    return Figure(name, count / hours if hours else None, "per hour", count, at_most)


def quantile(values: Sequence[float], share: float) -> float | None:
    """Return the value that `share` of the values do not exceed; infinite ones count."""
    if not values:
        return None
    ordered = sorted(values)
    at = share * (len(ordered) - 1)
    low, high = ordered[int(at)], ordered[min(int(at) + 1, len(ordered) - 1)]
    part = at - int(at)
    return low if part == 0 or low == high else low + part * (high - low)


def seconds(
    name: str, values: Sequence[float], share: float, at_most: float | None = None
) -> Figure:
    """Return a quantile of delays."""
    return Figure(name, quantile(values, share), "s", len(values), at_most)
