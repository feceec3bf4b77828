"""How far away can a digit of this height be read?

ISO 9241-303 (as its predecessor 9241-3) asks for at least 16 minutes of arc and prefers 20 to 22;
NUREG-0700 gives the same figures. The height is that of an unaccented capital or digit, not the
font size.
"""

import math
from typing import Final

from livemon.tongue import said

#: Lower end of what is preferred.
PREFERRED_ARCMIN: Final = 20.0
LEAST_ARCMIN: Final = 16.0

_ARCMIN_PER_DEGREE: Final = 60
_MM_PER_M: Final = 1000
_MM_PER_INCH: Final = 25.4


def arcminutes(height_mm: float, distance_m: float) -> float:
    """Return the angle under which something of this height is seen."""
    half = math.atan(height_mm / 2 / (distance_m * _MM_PER_M))
    return 2 * math.degrees(half) * _ARCMIN_PER_DEGREE


def height_mm(arcmin: float, distance_m: float) -> float:
    """Return how tall something must be to be seen under this angle."""
    half = math.radians(arcmin / _ARCMIN_PER_DEGREE / 2)
    return 2 * distance_m * _MM_PER_M * math.tan(half)


def distance_m(height_mm: float, arcmin: float) -> float:
    """Return from how far something of this height is seen under this angle."""
    half = math.radians(arcmin / _ARCMIN_PER_DEGREE / 2)
    return height_mm / 2 / math.tan(half) / _MM_PER_M


def pixel_mm(dots_per_inch: float) -> float:
    """Return the size of a pixel on a screen that reports this density."""
    return _MM_PER_INCH / dots_per_inch


def legibility_words(capital_px: float, pixel_mm: float, from_m: float) -> str:
    """Say how well digits of this height can be read from there."""
    height = capital_px * pixel_mm
    angle = arcminutes(height, from_m)
    seen = said("{minutes}′ at {distance} m", minutes=f"{angle:.0f}", distance=f"{from_m:g}")
    if angle >= PREFERRED_ARCMIN:
        return said("{angle}: easy to read", angle=seen)
    if angle >= LEAST_ARCMIN:
        return said("{angle}: readable", angle=seen)
    most = f"{distance_m(height, LEAST_ARCMIN):.1f}"
    return said("{angle}: too small; readable to {distance} m", angle=seen, distance=most)
