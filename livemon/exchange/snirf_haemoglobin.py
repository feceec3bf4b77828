"""HbO and HbR of all sites on one even grid, for readers that know neither StO2 nor uneven times.

Where a sensor gives no O2Hb and HHb of its own, they follow from what saturation is: O2Hb is that
share of total haemoglobin, HHb the rest. Each step of the grid holds the newest reading, unless it
is older than three of the sensor's own periods.
"""

from collections.abc import Sequence
from typing import Final

import numpy as np

from livemon.exchange.columns import Array, Columns
from livemon.exchange.snirf_parts import Block, Channel
from livemon.exchange.snirf_units import unit_of

_STALE_PERIODS: Final = 3
_MS_PER_S: Final = 1000
#: What readers can scale; any other unit is told in a tag instead.
_MOLAR: Final = "mol/L"


def haemoglobin(parts: Sequence[Columns]) -> tuple[Block | None, str]:
    """Return the block and its unit; none where no site tells total haemoglobin.

    Args:
        parts: the used readings of each site, in the order of the sites.
    """
    known = [(place, _both(part)) for place, part in enumerate(parts, start=1)]
    told = [(place, both) for place, both in known if len(both[0])]
    if not told:
        return None, ""
    step_s = min(_period_s(t_s) for _, (t_s, _, _) in told)
    begin_s, end_s = min(t[0] for _, (t, _, _) in told), max(t[-1] for _, (t, _, _) in told)
    grid = begin_s + step_s * np.arange(int((end_s - begin_s) / step_s) + 1)
    unit = next((unit for part in parts if (unit := _unit(part))), "")
    channels: list[Channel] = []
    for place, (t_s, oxygenated, deoxygenated) in told:
        for label, values in (("HbO", oxygenated), ("HbR", deoxygenated)):
            molar = unit if unit.endswith(_MOLAR) else ""
            channels.append(Channel(label, molar, place, _held(t_s, values, grid)))
    return Block(grid, tuple(channels)), unit


def _unit(part: Columns) -> str:
    return unit_of(part["o2hb_unit"]) or unit_of(part["thb_unit"])


def _both(part: Columns) -> tuple[Array, Array, Array]:
    """Return times, O2Hb and HHb where both are known."""
    oxygenated, deoxygenated = part["o2hb"], part["hhb"]
    if np.isnan(oxygenated).all() or np.isnan(deoxygenated).all():
        oxygenated = part["smo2_pct"] / 100 * part["thb"]
        deoxygenated = part["thb"] - oxygenated
    known = ~(np.isnan(oxygenated) | np.isnan(deoxygenated))
    return part["t_s"][known], oxygenated[known], deoxygenated[known]


def _period_s(t_s: Array) -> float:
    """Return the sensor's period to a millisecond; a second, where there is but one reading."""
    if len(t_s) < 2:
        return 1.0
    return max(1, round(float(np.median(np.diff(t_s))) * _MS_PER_S)) / _MS_PER_S


def _held(t_s: Array, values: Array, grid: Array) -> Array:
    newest = np.searchsorted(t_s, grid, side="right") - 1
    held = np.where(newest >= 0, values[newest], np.nan)
    age_s = grid - t_s[newest]
    return np.where(age_s <= _STALE_PERIODS * _period_s(t_s), held, np.nan)
