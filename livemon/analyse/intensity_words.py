"""A bout's intensity in words, with where it comes from."""

from typing import Final

from livemon.analyse.bout import Intensity

_HARD_SPACE: Final = "\N{NO-BREAK SPACE}"


def intensity_in_full(intensity: Intensity) -> str:
    """Return "212 W (measured, spread 6 W)", or "250 W (entered)"."""
    origin = intensity.origin.value
    if intensity.spread is not None:
        origin = f"{origin}, spread {_amount(intensity.spread, intensity.unit)}"
    return f"{_amount(intensity.value, intensity.unit)} ({origin})"


def _amount(value: float, unit: str) -> str:
    return f"{value:g}{_HARD_SPACE}{unit}".rstrip(_HARD_SPACE)
