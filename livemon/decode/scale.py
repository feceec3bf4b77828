"""From a raw number to a value: value = raw × M × 10^d × 2^b, as the Bluetooth SIG writes it.

Source: Bluetooth SIG, GATT Specification Supplement, "Scalars": M, d and b are whole numbers.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Scale:
    """One scale.

    Attributes:
        m: multiplier, not 0.
        d: decimal exponent.
        b: binary exponent.
    """

    m: int = 1
    d: int = 0
    b: int = 0

    @property
    def fraction(self) -> tuple[int, int]:
        """Numerator and denominator: a whole raw number is then scaled with one rounding.

        634 × 1 / 10 is 63.4, while 634 × 0.1 is 63.400000000000006.
        """
        numerator = self.m * 10 ** max(self.d, 0) * 2 ** max(self.b, 0)
        return numerator, 10 ** max(-self.d, 0) * 2 ** max(-self.b, 0)

    def value(self, raw: float) -> float:
        """Scale a raw number."""
        numerator, denominator = self.fraction
        return raw * numerator / denominator

    def raw(self, value: float) -> float:
        """Unscale a value; not rounded."""
        numerator, denominator = self.fraction
        return value * denominator / numerator
