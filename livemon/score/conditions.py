"""Under which sensors the scenarios are seen: rate, rounding, noise, smoothing, radio.

The levels are crossed by drawing each one on its own, so that over some hundred traces every level
of one meets every level of the others.
"""

from dataclasses import dataclass
from typing import Final

from numpy.random import Generator

from livemon.synthetic.noise import happenings
from livemon.synthetic.oximeter import Oximeter
from livemon.synthetic.radio import Radio

RATES_HZ: Final = (0.5, 1.0, 2.0, 5.0, 10.0)
STEPS_PCT: Final = (0.0, 0.1, 1.0)
NOISE_SDS: Final = (0.3, 0.5, 0.8, 1.25, 2.0)  # equal ratios
KINDS: Final = ("white", "wander", "ripple", "mixed")
SMOOTHINGS_S: Final = (0.0, 0.0, 2.0, 5.0)
LINKS: Final = ("clean", "bunched", "gappy", "untidy")

#: 10 Hz costs ten times the work of 1 Hz and is seldom met.
_RATE_CHANCES: Final = (0.2, 0.3, 0.22, 0.16, 0.12)
#: Shares of the variance: new in each reading, wandering over seconds, slow waves over half a
#: minute, the pulse of the cadence.
_SHARES: Final = {
    "white": (0.8, 0.2, 0.0, 0.0),
    "wander": (0.15, 0.75, 0.1, 0.0),
    "ripple": (0.2, 0.4, 0.05, 0.35),
    "mixed": (0.3, 0.5, 0.1, 0.1),
}


@dataclass(frozen=True, slots=True)
class Conditions:
    """One combination."""

    rate_hz: float
    step_pct: float
    noise_sd: float
    kind: str
    smoothing_s: float
    link: str


def draw(rng: Generator) -> Conditions:
    """Draw one combination."""
    return Conditions(
        rate_hz=float(rng.choice(RATES_HZ, p=_RATE_CHANCES)),
        step_pct=float(rng.choice(STEPS_PCT)),
        noise_sd=float(rng.choice(NOISE_SDS)),
        kind=str(rng.choice(KINDS)),
        smoothing_s=float(rng.choice(SMOOTHINGS_S)),
        link=str(rng.choice(LINKS)),
    )


def oximeter(rng: Generator, conditions: Conditions, seconds: float) -> Oximeter:
    """Return a sensor that works under `conditions`."""
    white, wander, slow, ripple = (
        share**0.5 * conditions.noise_sd for share in _SHARES[conditions.kind]
    )
    return Oximeter(
        rate_hz=conditions.rate_hz,
        white_sd=white,
        wander_sd=wander,
        wander_tau_s=float(rng.uniform(3.0, 8.0)),
        slow_sd=slow,
        slow_tau_s=float(rng.uniform(20.0, 40.0)),
        ripple_sd=ripple,
        cadence_hz=float(rng.uniform(0.8, 2.8)),
        smoothing_s=conditions.smoothing_s,
        step_pct=conditions.step_pct,
        spikes_per_min=float(rng.choice((0.0, 0.0, 0.2))),
        radio=radio(rng, conditions.link, seconds),
    )


def radio(rng: Generator, link: str, seconds: float) -> Radio:
    """Return a link of the kind that `link` names."""
    if link == "clean":
        return Radio()
    if link == "bunched":
        return Radio(jitter_s=0.05, batch_s=float(rng.choice((0.15, 0.5, 1.0))))
    if link == "untidy":
        return Radio(jitter_s=0.2, lost_share=0.03, twice_share=0.02, late_share=0.02)
    gaps = tuple((at, at + rng.uniform(2.0, 15.0)) for at in happenings(rng, seconds, 0.3))
    return Radio(gaps=gaps, flushes=bool(rng.random() < 0.5), lost_share=0.02)
