"""What is typed on the Kit page: who wears a sensor, and the heart rate to hold."""

import re
from typing import Final

from livemon.errors import UsageError
from livemon.view.kit_commands import Band
from livemon.view.kit_model import AthleteModel

_BAND: Final = re.compile(r"(\d{2,3})\s*[-–]\s*(\d{2,3})")
_LOWEST_BPM: Final = 30
_HIGHEST_BPM: Final = 250
_NARROWEST_BPM: Final = 2

#: Common muscle sites, offered; any other may be typed.
SITES: Final = (
    "left thigh", "right thigh", "left calf", "right calf", "left forearm", "right forearm",
    "left shoulder", "right shoulder",
)  # fmt: skip


def read_band(text: str) -> Band:
    """Read a heart-rate band; nothing means none.

    Raises:
        UsageError: it isn't one.
    """
    if not text.strip():
        return None
    found = _BAND.fullmatch(text.strip())
    if found is not None:
        low, high = int(found[1]), int(found[2])
        if low >= _LOWEST_BPM and low + _NARROWEST_BPM <= high <= _HIGHEST_BPM:
            return low, high
    raise UsageError(
        f"Heart rate to hold: expected two numbers from {_LOWEST_BPM} to {_HIGHEST_BPM} bpm as in "
        f"142–154, found “{text.strip()}”."
    )


def named(name: str, athletes: tuple[AthleteModel, ...]) -> AthleteModel | None:
    """Return the athlete of this name; None if nobody is called so."""
    wanted = name.strip().casefold()
    return next((one for one in athletes if one.name.casefold() == wanted), None)
