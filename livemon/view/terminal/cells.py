"""Text measured in terminal cells: wide characters take two, combining ones none."""

import unicodedata

_WIDE = {"W", "F"}


def cells(text: str) -> int:
    """Return how many cells `text` takes."""
    return sum(_cells_of(character) for character in text)


def fitted(text: str, width: int) -> str:
    """Return `text` cut with an ellipsis or filled with spaces, exactly `width` cells wide."""
    if width <= 0:
        return ""
    if cells(text) <= width:
        return text + " " * (width - cells(text))
    kept, used = "", 0
    for character in text:
        if used + _cells_of(character) > width - 1:
            break
        kept += character
        used += _cells_of(character)
    return kept + "…" + " " * (width - 1 - used)


def _cells_of(character: str) -> int:
    if unicodedata.combining(character):
        return 0
    return 2 if unicodedata.east_asian_width(character) in _WIDE else 1
