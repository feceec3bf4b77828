"""What a heart-rate strap reports of a true heart rate, on good days and on bad ones.

It averages a few beats, rounds to whole bpm, and sends the RR intervals since its last message in
units of 1/1024 s. Its faults: no reading, a reading locked to the cadence instead of the heart,
and single wild readings.
"""

from dataclasses import dataclass, field
from typing import Final

import numpy as np
from numpy.random import Generator

from livemon.decode.samples import HeartRateSample
from livemon.synthetic.beats import WANDER_BPM, beats, uneven
from livemon.synthetic.body import Truth
from livemon.synthetic.noise import Floats, spikes, within
from livemon.synthetic.radio import Radio, Stream, arrivals

_SLOWEST_BPM: Final = 30.0
_FASTEST_BPM: Final = 240.0


@dataclass(frozen=True, slots=True)
class Strap:
    """One strap on one heart.

    Attributes:
        wander_bpm: standard deviation of the heart's own wander over seconds, at 104 bpm.
        swing_bpm: how far heart rate swings with the breath.
        beats_averaged: over how many beats the strap averages.
        sends_rr: whether RR intervals come along.
        silent: spans (from, to) in which the strap reports no heart rate.
        locked: spans in which it reports the cadence.
        cadence_bpm: what it then reports.
        wild_per_min: how many single wild readings come, on average.
    """

    period_s: float = 1.0
    wander_bpm: float = WANDER_BPM
    swing_bpm: float = 0.0
    beats_averaged: int = 6
    sends_rr: bool = True
    silent: tuple[tuple[float, float], ...] = ()
    locked: tuple[tuple[float, float], ...] = ()
    cadence_bpm: float = 85.0
    wild_per_min: float = 0.0
    radio: Radio = field(default_factory=Radio)


def strap_stream(rng: Generator, true: Truth, strap: Strap) -> Stream:
    """Return what `strap` reports over the whole of `true`."""
    beat_s = beats(
        rng,
        true.t_s,
        uneven(rng, true.t_s, true.heart_rate_bpm, strap.wander_bpm, strap.swing_bpm),
    )
    t_s = np.arange(strap.period_s, true.t_s[-1], strap.period_s) + rng.uniform(0, strap.period_s)
    seen = np.searchsorted(beat_s, t_s, side="right")
    bpm = _reported(rng, t_s, beat_s, seen, strap)
    silent = within(t_s, strap.silent)
    no_beats = silent | within(t_s, strap.locked) | np.full(len(t_s), not strap.sends_rr)
    rr_s = (np.round(np.diff(beat_s, prepend=beat_s[0]) * 1024) / 1024).tolist()
    first = np.maximum(np.concatenate(([0], seen[:-1])), 1)  # the first beat ends no interval
    which, stamps, handed = arrivals(rng, t_s, strap.radio)
    return [
        (at, HeartRateSample(
            t_s=stamp,
            bpm=None if silent[i] else bpm[i],
            contact=not silent[i],
            rr_s=() if no_beats[i] else tuple(rr_s[first[i] : seen[i]]),
        ))
        for i, stamp, at in zip(which.tolist(), stamps.tolist(), handed.tolist(), strict=True)
    ]  # fmt: skip


def _reported(
    rng: Generator, t_s: Floats, beat_s: Floats, seen: np.ndarray, strap: Strap
) -> list[float]:
    last = np.clip(seen - 1, 1, len(beat_s) - 1)
    first = np.maximum(last - strap.beats_averaged, 0)
    bpm = 60 * (last - first) / (beat_s[last] - beat_s[first])
    bpm = bpm + spikes(rng, t_s, strap.wild_per_min, 40.0)
    cadence = strap.cadence_bpm + rng.normal(0, 1.5, len(t_s))
    bpm = np.where(within(t_s, strap.locked), cadence, bpm)
    whole: list[float] = np.round(np.clip(bpm, _SLOWEST_BPM, _FASTEST_BPM)).tolist()
    return whole
