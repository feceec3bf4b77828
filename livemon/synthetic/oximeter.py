"""What a muscle oximeter reports of a true SmO2: at its own rate, with its noise and its faults."""

from dataclasses import dataclass, field
from typing import Final

import numpy as np
from numpy.random import Generator

from livemon.decode.samples import OxygenationSample
from livemon.synthetic.body import SiteTruth, Truth
from livemon.synthetic.noise import (
    Floats,
    bursts,
    quantised,
    ripple,
    slips,
    smoothed,
    spikes,
    wander,
    within,
)
from livemon.synthetic.radio import Radio, Stream, arrivals

#: Total haemoglobin is quieter than saturation, relative to its size (1-2 % in hard intervals).
_THB_NOISE_SHARE: Final = 0.05
_THB_STEP: Final = 0.01


@dataclass(frozen=True, slots=True)
class Oximeter:
    """One sensor on one muscle.

    Attributes:
        rate_hz: readings per second, 0.5 to 10.
        white_sd: noise that is new in each reading, %.
        wander_sd: noise that lasts for seconds, %.
        wander_tau_s: how long it lasts.
        slow_sd: the slow waves of skin and vessels, %.
        slow_tau_s: how long they last.
        ripple_sd: the pulse of the cadence, %.
        cadence_hz: that cadence.
        noisier: spans (from, to, times): all of this is so many times larger in there.
        smoothing_s: time constant of the filter inside the device.
        step_pct: what readings are rounded to.
        spikes_per_min: single readings far off.
        bursts: spans in which the sensor is knocked about.
        slips: (when, by how many %) the sensor moved to another place.
        no_contact: spans without skin contact.
    """

    rate_hz: float = 1.0
    white_sd: float = 0.4
    wander_sd: float = 0.5
    wander_tau_s: float = 5.0
    slow_sd: float = 0.2
    slow_tau_s: float = 30.0
    ripple_sd: float = 0.3
    cadence_hz: float = 1.4
    noisier: tuple[tuple[float, float, float], ...] = ()
    smoothing_s: float = 0.0
    step_pct: float = 0.1
    spikes_per_min: float = 0.0
    bursts: tuple[tuple[float, float], ...] = ()
    slips: tuple[tuple[float, float], ...] = ()
    no_contact: tuple[tuple[float, float], ...] = ()
    radio: Radio = field(default_factory=Radio)


@dataclass(frozen=True, slots=True)
class Readings:
    """What the sensor itself shows, before anything travels."""

    site: str
    t_s: Floats
    smo2_pct: Floats
    thb: Floats


def readings(rng: Generator, true: Truth, site: int, oximeter: Oximeter) -> Readings:
    """Return what `oximeter` on the muscle number `site` shows over the whole of `true`."""
    muscle = true.sites[site]
    period_s = 1 / oximeter.rate_hz
    t_s = np.arange(rng.uniform(0, period_s), true.t_s[-1], period_s)
    smo2_pct = measured(rng, t_s, np.interp(t_s, true.t_s, muscle.smo2_pct), oximeter)
    return Readings(muscle.site, t_s, smo2_pct, _thb(rng, t_s, true, muscle, oximeter))


def oximeter_stream(rng: Generator, true: Truth, site: int, oximeter: Oximeter) -> Stream:
    """Return what arrives from `oximeter` on the muscle number `site`."""
    return delivered(rng, readings(rng, true, site, oximeter), oximeter)


def delivered(rng: Generator, shown: Readings, oximeter: Oximeter) -> Stream:
    """Return what arrives of what the sensor has shown."""
    smo2_pct, thb = shown.smo2_pct.tolist(), shown.thb.tolist()
    apart = within(shown.t_s, oximeter.no_contact)
    which, stamps, handed = arrivals(rng, shown.t_s, oximeter.radio)
    return [
        (at, OxygenationSample(
            t_s=stamp,
            site=shown.site,
            smo2_pct=None if apart[i] else smo2_pct[i],
            thb=None if apart[i] else thb[i],
            contact=not apart[i],
        ))
        for i, stamp, at in zip(which.tolist(), stamps.tolist(), handed.tolist(), strict=True)
    ]  # fmt: skip


def measured(rng: Generator, t_s: Floats, true_pct: Floats, oximeter: Oximeter) -> Floats:
    """Return the readings at `t_s` of a muscle that really is at `true_pct`."""
    noise = (
        rng.normal(0, oximeter.white_sd, len(t_s))
        + wander(rng, t_s, oximeter.wander_sd, oximeter.wander_tau_s)
        + wander(rng, t_s, oximeter.slow_sd, oximeter.slow_tau_s)
        + ripple(rng, t_s, oximeter.ripple_sd, oximeter.cadence_hz)
    )
    for begin_s, end_s, times in oximeter.noisier:
        noise = np.where(within(t_s, ((begin_s, end_s),)), times * noise, noise)
    raw = true_pct + noise + slips(t_s, oximeter.slips) + bursts(rng, t_s, oximeter.bursts, 5.0)
    shown = smoothed(t_s, raw, oximeter.smoothing_s)
    shown = shown + spikes(rng, t_s, oximeter.spikes_per_min, 15.0)
    return np.clip(quantised(shown, oximeter.step_pct), 0.0, 100.0)


def _thb(rng: Generator, t_s: Floats, true: Truth, muscle: SiteTruth, oximeter: Oximeter) -> Floats:
    noise = rng.normal(0, _THB_NOISE_SHARE * (0.1 + oximeter.white_sd), len(t_s))
    return quantised(np.interp(t_s, true.t_s, muscle.thb) + noise, _THB_STEP)
