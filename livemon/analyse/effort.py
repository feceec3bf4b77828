"""How hard each bout was, as a power meter, foot sensor or machine measured it.

A measured mean takes the place of what was entered, as far as both say the same kind of thing: a
treadmill set to 12 km/h is not run at 12 km/h from the first second. A load in kg stays, because
no sensor weighs it. Bouts of one kind of work get one quantity in one unit, or else no pace that
holds could be found in them.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from livemon.analyse.bins import bin_means
from livemon.analyse.bout import Bout, Intensity, Origin
from livemon.analyse.series import Series
from livemon.analyse.tracks import EffortTrack
from livemon.analyse.windows import ENOUGH_COVERED, Window, late_part
from livemon.series.effort import Effort

_SHORTEST_S: Final = 10.0
_KM_H_IN_M_PER_S: Final = 3.6

#: What is measured, in the order of preference: its unit, and the decimals that it is given with.
_QUANTITIES: Final = ((Effort.POWER, "W", 0), (Effort.SPEED, "m/s", 2))
#: Units of what may be entered that a measured mean replaces; others say something else.
_REPLACED: Final = frozenset({"W", "m/s", "km/h"})


def with_effort(bouts: tuple[Bout, ...], effort: EffortTrack) -> tuple[Bout, ...]:
    """Give each bout of work its measured intensity, where there is one."""
    measured: dict[int, Intensity] = {}
    for kind in {bout.kind for bout in bouts}:
        places = [i for i, b in enumerate(bouts) if b.kind == kind and b.judged and _open(b)]
        measured |= _measured([(i, bouts[i]) for i in places], effort)
    by_speed = {bouts[i].kind for i, one in measured.items() if one.unit == "m/s"}
    return tuple(
        replace(bout, intensity=measured[i])
        if i in measured
        else _in_m_per_s(bout)
        if bout.kind in by_speed
        else bout
        for i, bout in enumerate(bouts)
    )


def measured_intensity(series: Series, unit: str, decimals: int, bout: Bout) -> Intensity | None:
    """Return mean and spread over the late part; None when too little was measured.

    The late part is where the trend of SmO2 comes from; a short bout is taken as a whole. The
    spread is that of means over five seconds, so that a limping stride or an uneven pedal does
    not count as unsteady work.
    """
    window = late_part(bout) or Window(bout.start_s, bout.end_s)
    if window.duration_s < _SHORTEST_S:
        return None
    if series.covered(window.start_s, window.end_s) < ENOUGH_COVERED:
        return None
    means = bin_means(series, window.start_s, window.end_s).values
    mean = float(means.mean())
    if mean <= 0:
        return None
    spread = float(means.std(ddof=1)) if len(means) > 1 else None
    rounded = None if spread is None else round(spread, decimals)
    return Intensity(round(mean, decimals), unit, Origin.MEASURED, rounded)


def _open(bout: Bout) -> bool:
    return bout.intensity is None or bout.intensity.unit in _REPLACED


def _measured(bouts: Sequence[tuple[int, Bout]], effort: EffortTrack) -> dict[int, Intensity]:
    """Return by place what was measured of bouts of one kind: the quantity that most of them have.

    Of two that equally many have, power: it says what the body does, uphill and against wind too.
    """
    best: dict[int, Intensity] = {}
    for quantity, unit, decimals in _QUANTITIES:
        series = effort.series(quantity)
        found = {
            i: one
            for i, bout in bouts
            if (one := measured_intensity(series, unit, decimals, bout)) is not None
        }
        if len(found) > len(best):
            best = found
    return best


def _in_m_per_s(bout: Bout) -> Bout:
    """Return the bout with a speed entered in km/h in the unit of the measured ones."""
    entered = bout.intensity
    if entered is None or entered.unit != "km/h":
        return bout
    speed = round(entered.value / _KM_H_IN_M_PER_S, 2)
    return replace(bout, intensity=replace(entered, value=speed, unit="m/s"))
