"""Single heartbeats that go with a heart rate, and the unevenness real hearts have.

Two parts: a wander of seconds (breathing, effort from stroke to stroke), and the jitter from beat
to beat. Both make RR intervals uneven, and that unevenness halves with every 20 bpm (Mongin et al.
2022, PLoS One 17:e0273981): a heart that works hard runs like a clock.
"""

from typing import Final

import numpy as np
from numpy.random import Generator

from livemon.synthetic.noise import Floats, wander

#: Makes slopes over 60, 120 and 180 s of steady work scatter as on a real half-hour ride at 104 bpm
#: (95 % of them within 7.6, 2.5 and 1.5 bpm/min).
WANDER_BPM: Final = 2.7
_WANDER_AT_BPM: Final = 104.0
_HALVES_WITH_BPM: Final = 20.0
_WANDER_TAU_S: Final = 5.5
#: From memory, common at rest: the root mean square of successive differences is 30-60 ms.
_JITTER_AT_60_S: Final = 0.03


def uneven(
    rng: Generator, t_s: Floats, bpm: Floats, wander_bpm: float, swing_bpm: float = 0.0
) -> Floats:
    """Return heart rate as it really runs: `bpm` with wander, and a swing with the breath.

    `wander_bpm` is the standard deviation at 104 bpm. The same share of an RR interval is more
    beats per minute where the heart is faster, hence the square.
    """
    breath = swing_bpm * np.sin(2 * np.pi * (0.25 * t_s + rng.uniform()))
    calmer = 2 ** (-(bpm - _WANDER_AT_BPM) / _HALVES_WITH_BPM) * (bpm / _WANDER_AT_BPM) ** 2
    return np.maximum(bpm + calmer * wander(rng, t_s, wander_bpm, _WANDER_TAU_S) + breath, 25.0)


def beats(rng: Generator, t_s: Floats, bpm: Floats) -> Floats:
    """Return the times of the beats of a heart that runs at `bpm`."""
    count = np.concatenate(([0.0], np.cumsum(bpm[:-1] / 60 * np.diff(t_s)))) + rng.uniform()
    whole = np.arange(np.ceil(count[0]), np.floor(count[-1]) + 1)
    at_s = np.interp(whole, count, t_s)
    jitter_s = _JITTER_AT_60_S * 2 ** (-(np.interp(at_s, t_s, bpm) - 60) / _HALVES_WITH_BPM)
    return np.sort(at_s + jitter_s * rng.standard_normal(len(at_s)))
