"""What an invented athlete does: phases of work and rest, and how each muscle answers to them.

Everything here is invented. The shapes and the defaults come from published physiology:

* fast response of muscle oxygenation: a delay of 9-13 s, then an exponential with a time constant
  of about 10 s in moderate work, longer in harder work (DeLorey, Kowalchuk, Paterson 2003, J Appl
  Physiol 95:113; Grassi et al. 2003, J Appl Physiol 95:149; muscle oxygen uptake: 21-47 s);
* after it a slow part: a slow fall in heavy work, a refill in moderate work, the way back from the
  overshoot after work (112-132 % of rest: J Sports Sci Med 2024, 23:46, table 3);
* heart rate: first order, 30-60 s on, slower off (Yoshida and Whipp 1994, J Physiol; Hunt et al.
  2015, Biomed Eng Online 14), drifting upwards by 0.2-0.5 bpm/min in steady work (Teso et al. 2022,
  Med Sci Sports Exerc 54:655);
* total haemoglobin: within 1-2 % of its resting value in hard intervals (J Sports Sci Med 2024).

This file knows no noise and no sensor.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Leg:
    """From `after_s` into the phase on, and until the next leg, SmO2 also moves at this rate."""

    after_s: float
    pct_per_min: float  #: negative is falling


@dataclass(frozen=True, slots=True)
class SitePhase:
    """How one muscle answers to one phase.

    Attributes:
        level_pct: where the fast response is heading; None where the load on it does not change.
        delay_s: seconds before the fast response begins.
        tau_s: time constant of the fast response.
        slow_pct: size of the slow part: negative falls further, positive refills.
        slow_delay_s: seconds before the slow part begins.
        slow_tau_s: time constant of the slow part.
        legs: straight pieces on top, in order of time: ramps, a breakaway, stairs.
        thb_pct: how far total haemoglobin moves from its resting value, in percent of it.
    """

    level_pct: float | None = None
    delay_s: float = 10.0
    tau_s: float = 15.0
    slow_pct: float = 0.0
    slow_delay_s: float = 30.0
    slow_tau_s: float = 45.0
    legs: tuple[Leg, ...] = ()
    thb_pct: float = 0.0


@dataclass(frozen=True, slots=True)
class Phase:
    """A stretch of one load; `sites` in the order of the body's sites.

    `speed_m_per_s` matters to invented foot sensors and machines only.
    """

    kind: str  #: what is done, in plain words: "rest", "run", "carry", "recovery"
    working: bool
    seconds: float
    heart_rate_bpm: float  #: what heart rate is heading for
    sites: tuple[SitePhase, ...]
    drift_bpm_per_min: float = 0.0
    speed_m_per_s: float | None = None


@dataclass(frozen=True, slots=True)
class Muscle:
    """One muscle under one sensor."""

    site: str
    rest_pct: float = 70.0
    low_pct: float = 22.0  #: this athlete's own low at this placement: SmO2 flattens towards it
    rest_thb: float = 12.0  #: arbitrary unit


@dataclass(frozen=True, slots=True)
class Body:
    """One invented athlete."""

    muscles: tuple[Muscle, ...] = (Muscle("left thigh"),)
    rest_bpm: float = 62.0
    on_tau_s: float = 35.0
    off_tau_s: float = 50.0


def ramp(pct_per_min: float, after_s: float, until_s: float | None = None) -> tuple[Leg, ...]:
    """Return the legs of one straight rise or fall."""
    begin = Leg(after_s, pct_per_min)
    return (begin,) if until_s is None else (begin, Leg(until_s, 0.0))
