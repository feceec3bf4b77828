"""Invented traces for the monitor's tests: a muscle and a heart, second by second."""

import random
from collections.abc import Iterator

from livemon.decode.samples import HeartRateSample, OxygenationSample
from livemon.monitor.athlete import Monitor
from livemon.monitor.changes import Change

Sample = HeartRateSample | OxygenationSample
SITE = "left thigh"


def muscle(*legs: tuple[int, float, float]) -> list[float]:
    """For each (seconds, target %, time constant s) approach the target from where it was."""
    level, out = legs[0][1], []
    for seconds, target, tau_s in legs:
        for _ in range(seconds):
            level += (target - level) / tau_s
            out.append(level)
    return out


def falling(levels: list[float], rate_pct_per_min: float, seconds: int) -> list[float]:
    """Append a straight fall."""
    return levels + [levels[-1] - rate_pct_per_min / 60 * (i + 1) for i in range(seconds)]


def held(levels: list[float], seconds: int) -> list[float]:
    """Append what stays where it is."""
    return levels + [levels[-1]] * seconds


def heart(*legs: tuple[int, float]) -> list[float]:
    """For each (seconds, target bpm) approach it with a time constant of 35 s."""
    return muscle(*((seconds, bpm, 35.0) for seconds, bpm in legs))


def stream(
    smo2: list[float], bpm: list[float | None], *, noise_pct: float = 0.4, seed: int = 1
) -> Iterator[Sample]:
    """Heart rate and SmO2 once a second, with noise, in order of arrival."""
    chance = random.Random(seed)
    for second, (level, rate) in enumerate(zip(smo2, bpm, strict=True)):
        heard = None if rate is None else round(rate + chance.gauss(0, 0.8))
        yield HeartRateSample(float(second), heard, True)
        yield OxygenationSample(second + 0.3, SITE, level + chance.gauss(0, noise_pct), 12.0)


def changes(monitor: Monitor, samples: Iterator[Sample] | list[Sample]) -> list[Change]:
    """Feed all; return everything that changed."""
    return [change for sample in samples for change in monitor.feed(sample)]


#: Two minutes of rest, then work that has settled; the heart with it.
SETTLED = muscle((120, 68.0, 10.0), (240, 55.0, 14.0))
SETTLED_HEART = heart((120, 70.0), (240, 150.0))
