"""How one muscle site's curve is told from the others: a colour and a marker's shape.

Four colours and three shapes give twelve pairs; the ten sites of one athlete are all distinct.
"""

from enum import Enum
from typing import Final


class Marker(Enum):
    """Shapes that can be told apart when small; the triangle is kept for warnings."""

    DISC = "disc"
    SQUARE = "square"
    DIAMOND = "diamond"


_COLOURS: Final = 4
_MARKERS: Final = tuple(Marker)


def colour_index(place: int) -> int:
    """Return which of the theme's curve colours the site in this place has."""
    return place % _COLOURS


def marker(place: int) -> Marker:
    """Return the marker of the site in this place."""
    return _MARKERS[(place // _COLOURS + place) % len(_MARKERS)]
