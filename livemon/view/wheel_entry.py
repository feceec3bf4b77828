"""What is typed for a wheel: how far it goes in one revolution."""

import re
from typing import Final

from livemon.errors import UsageError
from livemon.tongue import said

_NUMBER: Final = re.compile(r"\d{1,2}([.,]\d{1,4})?")
#: From the flywheel of an ergometer to a wheel of 29 inches with a thick tyre; common practice, no
#: source. A number in mm or cm is far outside.
_LEAST_M, _MOST_M = 0.1, 4.0


def read_wheel_m(text: str) -> float:
    """Read the way of one revolution in metres.

    Raises:
        UsageError: it isn't one.
    """
    number = text.strip().removesuffix("m").strip()
    if _NUMBER.fullmatch(number):
        wheel_m = float(number.replace(",", "."))
        if _LEAST_M <= wheel_m <= _MOST_M:
            return wheel_m
    raise UsageError(
        said(
            "Wheel: expected the way of one revolution, {least} to {most} m as in 2.105, found "
            "“{found}”.",
            least=f"{_LEAST_M:g}",
            most=f"{_MOST_M:g}",
            found=text.strip(),
        )
    )


def wheel_words(wheel_m: float | None) -> str:
    """Return it as it may be typed; empty where it is not known."""
    return "" if wheel_m is None else f"{wheel_m:.4f}".rstrip("0").rstrip(".")
