"""The noise-free truth of a script: heart rate, SmO2 and total haemoglobin on a fine time base.

Slopes are exact derivatives, not differences. What belongs to the fast response after a load
change is kept apart from the rest, so that a fall can be told from an onset.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from livemon.synthetic.script import Body, Leg, Muscle, Phase, SitePhase

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

#: Over how many points SmO2 bends as it comes to the own low: it flattens, it does not stop dead.
BEND_PCT: Final = 1.5
#: A script that would push SmO2 further below the low than this has no more effect.
_FURTHEST: Final = 3 * BEND_PCT
#: Venous volume follows in this time: between drainage (5 s) and filling (73-79 s; IEEE Trans
#: Biomed Eng 2007 54(4)).
_THB_TAU_S: Final = 20.0


@dataclass(frozen=True, slots=True)
class SiteTruth:
    """One muscle; all arrays are as long as the time base."""

    site: str
    low_pct: float
    smo2_pct: Floats
    thb: Floats
    slope_pct_per_min: Floats  #: of `smo2_pct`
    drift_pct_per_min: Floats  #: the same without the fast response to the last load change
    onset_left: Floats  #: share of the fast response still to come, 1 to 0


@dataclass(frozen=True, slots=True)
class Truth:
    """What really happened."""

    t_s: Floats
    working: Bools
    heart_rate_bpm: Floats
    heart_rate_bpm_per_min: Floats
    sites: tuple[SiteTruth, ...]
    phase_starts_s: tuple[float, ...]


def truth(phases: tuple[Phase, ...], body: Body, step_s: float = 0.1) -> Truth:
    """Work out what happens to `body` in `phases`."""
    starts_s = np.concatenate(([0.0], np.cumsum([p.seconds for p in phases])))
    t_s = np.arange(round(starts_s[-1] / step_s)) * step_s
    edges = np.searchsorted(t_s, starts_s - step_s / 2)
    since_s = [t_s[a:b] - s for a, b, s in zip(edges, edges[1:], starts_s, strict=False)]
    lengths = np.diff(edges)
    bpm, bpm_per_min = _heart_rate(phases, body, since_s)
    return Truth(
        t_s,
        np.repeat([p.working for p in phases], lengths),
        bpm,
        bpm_per_min,
        tuple(
            _site(muscle, tuple(p.sites[i] for p in phases), phases, since_s)
            for i, muscle in enumerate(body.muscles)
        ),
        tuple(float(s) for s in starts_s[:-1]),
    )


def _heart_rate(
    phases: tuple[Phase, ...], body: Body, since_s: list[Floats]
) -> tuple[Floats, Floats]:
    bpm, slope, now = [], [], body.rest_bpm
    for phase, u in zip(phases, since_s, strict=True):
        away = now - phase.heart_rate_bpm
        tau = body.on_tau_s if away < 0 else body.off_tau_s
        drift = phase.drift_bpm_per_min
        bpm.append(phase.heart_rate_bpm + away * np.exp(-u / tau) + drift * u / 60)
        slope.append(-60 * away / tau * np.exp(-u / tau) + drift)
        now = (
            phase.heart_rate_bpm
            + away * float(np.exp(-phase.seconds / tau))
            + drift * phase.seconds / 60
        )
    return np.concatenate(bpm), np.concatenate(slope)


def _site(
    muscle: Muscle,
    answers: tuple[SitePhase, ...],
    phases: tuple[Phase, ...],
    since_s: list[Floats],
) -> SiteTruth:
    parts, now, thb_now = [], muscle.rest_pct, 0.0
    for answer, phase, u in zip(answers, phases, since_s, strict=True):
        whole = np.append(u, phase.seconds)  # one point more: where the next phase begins
        free, onset_slope, drift, left = _unbounded(answer, now, whole)
        y, share = _above(muscle.low_pct, free)
        thb = answer.thb_pct + (thb_now - answer.thb_pct) * np.exp(-whole / _THB_TAU_S)
        parts.append((y, muscle.rest_thb * (1 + thb / 100), (onset_slope + drift) * share,
                      drift * share, left))  # fmt: skip
        now = max(float(free[-1]), muscle.low_pct - _FURTHEST)
        thb_now = float(thb[-1])
    joined = [np.concatenate([column[:-1] for column in c]) for c in zip(*parts, strict=True)]
    return SiteTruth(muscle.site, muscle.low_pct, *joined)


def _unbounded(answer: SitePhase, now: float, u: Floats) -> tuple[Floats, Floats, Floats, Floats]:
    """Return value, slope of the fast response, slope of all else, share of the fast left."""
    away = 0.0 if answer.level_pct is None else answer.level_pct - now
    fast, fast_rate = _rise(u, answer.delay_s, answer.tau_s)
    slow, slow_rate = _rise(u, answer.slow_delay_s, answer.slow_tau_s)
    lean, lean_rate = _lean(answer.legs, u)
    return (
        now + away * fast + answer.slow_pct * slow + lean,
        60 * away * fast_rate,
        60 * answer.slow_pct * slow_rate + lean_rate,
        np.zeros_like(u) if away == 0.0 else 1 - fast,
    )


def _rise(u: Floats, delay_s: float, tau_s: float) -> tuple[Floats, Floats]:
    """Return 1 - exp(-(u - delay) / tau) from the delay on, and its derivative per second."""
    left = np.exp(-np.maximum(u - delay_s, 0) / tau_s)
    return 1 - left, np.where(u >= delay_s, left / tau_s, 0.0)


def _lean(legs: tuple[Leg, ...], u: Floats) -> tuple[Floats, Floats]:
    """Return the sum of the straight pieces, and their slope per minute."""
    total, rate = np.zeros_like(u), np.zeros_like(u)
    before = 0.0
    for leg in legs:
        total += (leg.pct_per_min - before) / 60 * np.maximum(u - leg.after_s, 0)
        rate = np.where(u >= leg.after_s, leg.pct_per_min, rate)
        before = leg.pct_per_min
    return total, rate


def _above(low_pct: float, free: Floats) -> tuple[Floats, Floats]:
    """Bend `free` so that it flattens at the low; return it and the share of its slope kept."""
    depth = (free - low_pct) / BEND_PCT
    return low_pct + BEND_PCT * np.logaddexp(0, depth), 1 / (1 + np.exp(-np.clip(depth, -60, 60)))
