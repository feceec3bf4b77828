"""Is the difference between two lactate samples more than the analyser's own scatter?"""

from dataclasses import dataclass
from enum import Enum
from typing import Final

#: Two readings by one analyser scatter with an SD of about 0.2 mmol/L each between 1 and 5 mmol/L
#: (residual standard error 0.15 to 0.22: Mentzoni et al. 2024, Eur J Appl Physiol,
#: doi 10.1007/s00421-024-05572-6), so 95 % of pure chance lies within 1.96 × √2 × 0.2 = 0.55.
#: Sweat and handling can err by far more (BMJ Open 2013, PMC3586176).
CLEAR_MMOL_L: Final = 0.55


class LactateChange(Enum):
    """What can be said of two samples."""

    HIGHER = "higher"
    LOWER = "lower"
    NO_CLEAR_DIFFERENCE = "no clear difference"
    OTHER_SITE = "not comparable: sampled at another site"


@dataclass(frozen=True, slots=True)
class LactateSample:
    """One drop of blood."""

    t_ns: int  #: when it was taken
    mmol_l: float
    sampling_site: str  #: empty when nobody noted it


def compare_lactate(before: LactateSample, after: LactateSample) -> LactateChange:
    """Say how `after` differs from `before`, if that can be told."""
    if before.sampling_site != after.sampling_site and before.sampling_site and after.sampling_site:
        return LactateChange.OTHER_SITE
    # Readings come in tenths; without rounding, 1.55 - 1.0 would fall short of 0.55.
    difference = round(after.mmol_l - before.mmol_l, 6)
    if abs(difference) < CLEAR_MMOL_L:
        return LactateChange.NO_CLEAR_DIFFERENCE
    return LactateChange.HIGHER if difference > 0 else LactateChange.LOWER
