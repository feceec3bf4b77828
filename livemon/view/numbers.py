"""Numbers as people read them. Unknown is a dash, minus is a minus sign, nothing is ever "nan"."""

import math
from typing import Final

from livemon.tongue import said

DASH: Final = "–"
MINUS: Final = "−"

_MINUTE_S: Final = 60.0
#: Beyond this a forecast says nothing that a coach could act on within a bout.
_FAR_S: Final = 30 * _MINUTE_S


def whole(value: float | None) -> str:
    """Return `value` without decimals."""
    if value is None or not math.isfinite(value):
        return DASH
    text = f"{value:.0f}"
    return "0" if text == "-0" else _minus(text)


def signed(value: float | None) -> str:
    """Return `value` with one decimal and its sign; what rounds to zero has none."""
    if value is None or not math.isfinite(value):
        return DASH
    text = f"{value:+.1f}"
    return "0.0" if text in {"+0.0", "-0.0"} else _minus(text)


def rate(value: float) -> str:
    """Return the size of a rate: "6", "4.1", "12"."""
    if not math.isfinite(value):
        return DASH
    size = abs(value)
    return f"{size:.0f}" if size >= 10 else f"{size:.1f}".removesuffix(".0")


def clock(seconds: float | None) -> str:
    """Return a running time: "0:07", "3:12", "1:02:07"."""
    if seconds is None or not math.isfinite(seconds):
        return DASH
    whole_s = max(0, int(seconds))
    minutes, second = divmod(whole_s, 60)
    hours, minute = divmod(minutes, 60)
    return f"{hours}:{minute:02}:{second:02}" if hours else f"{minute}:{second:02}"


def span(seconds: float) -> str:
    """Return how long something has lasted: "24 s", "2:10", "1:02:07"."""
    if math.isfinite(seconds) and seconds < _MINUTE_S:
        return f"{max(0, int(seconds))} s"
    return clock(seconds)


def minutes_ahead(soonest_s: float, latest_s: float) -> str:
    """Return a coarse band of time to come, never narrower than it is known.

    The near end is rounded down and the far end up, so the words never promise more than the
    numbers do.
    """
    if not (math.isfinite(soonest_s) and soonest_s <= _FAR_S):
        return said("not within {minutes} min", minutes=f"{_FAR_S / _MINUTE_S:.0f}")
    near = max(0, math.floor(soonest_s / _MINUTE_S))
    if not (math.isfinite(latest_s) and latest_s <= _FAR_S):
        if not near:
            return said("at a time too uncertain to say")
        return said("in {minutes} min or more", minutes=near)
    far = max(1, math.ceil(latest_s / _MINUTE_S))
    if not near:
        return said("within {minutes} min", minutes=far)
    return said("in {near}–{far} min", near=near, far=far)


def _minus(text: str) -> str:
    return text.replace("-", MINUS)
