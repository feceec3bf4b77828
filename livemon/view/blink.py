"""When a warning's frame is lit. Only frames blink, never words.

The bands are those of the normal and the slow flash in IEC 60073, which the common practice for
high and medium priority follows: 1.4 to 2.8 Hz and 0.4 to 0.8 Hz. Both stay below the three
flashes a second that WCAG 2.2 (2.3.1) allows.
"""

from typing import Final

from livemon.warn.priority import Priority

_PERIOD_S: Final = {
    Priority.DRAIN: 0.5,
    Priority.CAUTION: 2.0,
    Priority.INFORMATION: None,  # steady: it asks for nothing
}
_LIT_SHARE: Final = 0.5


def lit(priority: Priority | None, t_s: float, *, motion: bool) -> bool:
    """Return whether the frame is lit at this moment; steady where nothing should move."""
    period_s = None if priority is None else _PERIOD_S[priority]
    if period_s is None or not motion:
        return True
    return (t_s % period_s) < _LIT_SHARE * period_s
