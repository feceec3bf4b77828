"""Steps that no muscle makes: a sensor that slipped, told apart from a single wild value.

A value far from the last one is held back. If the next ones return, it was a spike and is
dropped; if they stay where it led, the sensor sits elsewhere now and the history is moved along.
"""

from dataclasses import dataclass
from typing import Final

#: Points per second that a muscle can change: the fast phase at the onset of heavy work, time
#: constant 10 s (DeLorey 2003, J Appl Physiol 95:113, from memory), seldom exceeds 25 points.
_BODY_PCT_PER_S: Final = 2.5

_AT_MOST_S: Final = 3  #: after a longer silence a jump is as likely the sensor's as the muscle's
_FAR_SD: Final = (
    4.5  #: SD of one-second values, by which the noise alone is no more than rarely exceeded
)
_CONFIRM: Final = 3  #: values at the new level that make a slip


@dataclass(frozen=True, slots=True)
class Outcome:
    """What to do with a value."""

    use: bool
    step_pct: float | None = None  #: the series moved by this much first


_USE: Final = Outcome(use=True)
_HOLD: Final = Outcome(use=False)


class SlipFilter:
    """Hold back what jumped until it is clear what it was."""

    __slots__ = ("_held",)

    def __init__(self) -> None:
        self._held: list[float] = []

    @property
    def suspicious(self) -> bool:
        """Is a value being held back?"""
        return bool(self._held)

    def restart(self) -> None:
        """Forget what is held back."""
        self._held.clear()

    def judge(self, value: float, last: float, since_s: int, sd: float) -> Outcome:
        """Judge `value`, `since_s` seconds after `last`, in noise of `sd`."""
        far = _BODY_PCT_PER_S * min(since_s, _AT_MOST_S) + _FAR_SD * sd
        if abs(value - last) <= far:
            self._held.clear()
            return _USE
        held = self._held
        if held and abs(value - sum(held) / len(held)) > 1.5 + 3.0 * sd:
            held.clear()
        held.append(value)
        if len(held) < _CONFIRM:
            return _HOLD
        step_pct = sum(held) / len(held) - last
        held.clear()
        return Outcome(use=True, step_pct=step_pct)
