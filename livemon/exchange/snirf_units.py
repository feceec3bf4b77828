"""Units in the spelling that SNIRF recommends."""

from livemon.exchange.columns import Array


def unit_of(units: Array) -> str:
    """Return the first unit that is named, in CMIXF-12 spelling, which has u for µ."""
    named = next((unit for unit in units.tolist() if unit), "")
    return str(named).replace("µ", "u").replace("μ", "u")
