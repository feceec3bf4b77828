"""A lactate sample as somebody noted it."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class LactateSample:
    """One drop of blood."""

    t_ns: int  #: when it was taken
    mmol_l: float
    sampling_site: str  #: empty when nobody noted it
