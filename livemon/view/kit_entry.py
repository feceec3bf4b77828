"""What is typed on the Kit page: who wears a sensor, the heart rate to hold, fat and skin."""

import re
from typing import Final

from livemon.errors import UsageError
from livemon.tongue import marked, said
from livemon.view.kit_commands import Band
from livemon.view.kit_model import AthleteModel

_BAND: Final = re.compile(r"(\d{2,3})\s*[-–]\s*(\d{2,3})")
_LOWEST_BPM: Final = 30
_HIGHEST_BPM: Final = 250
_NARROWEST_BPM: Final = 2
_NUMBER: Final = re.compile(r"\d{1,3}(\.\d{1,2})?")
_THICKEST_MM: Final = 100.0

#: Common muscle sites, offered; any other may be typed.
SITES: Final = (
    marked("left thigh"),
    marked("right thigh"),
    marked("left calf"),
    marked("right calf"),
    marked("left forearm"),
    marked("right forearm"),
    marked("left shoulder"),
    marked("right shoulder"),
)


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
        said(
            "Heart rate to hold: expected two numbers from {lowest} to {highest} bpm as in "
            "142–154, found “{found}”.",
            lowest=_LOWEST_BPM,
            highest=_HIGHEST_BPM,
            found=text.strip(),
        )
    )


def read_adipose(text: str) -> float | None:
    """Read a thickness in mm; nothing means that it was not measured.

    Raises:
        UsageError: it isn't one.
    """
    number = text.strip().removesuffix("mm").strip().replace(",", ".")
    if not number:
        return None
    if _NUMBER.fullmatch(number) and 0 < float(number) <= _THICKEST_MM:
        return float(number)
    raise UsageError(
        said(
            "Fat and skin over the muscle: expected a number above 0 to {most} mm as in 4.5, found "
            "“{found}”.",
            most=f"{_THICKEST_MM:g}",
            found=text.strip(),
        )
    )


def named(name: str, athletes: tuple[AthleteModel, ...]) -> AthleteModel | None:
    """Return the athlete of this name; None if nobody is called so."""
    wanted = name.strip().casefold()
    return next((one for one in athletes if one.name.casefold() == wanted), None)
