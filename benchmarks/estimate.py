"""What one sample costs in the estimate and the warning, beside the straightforward way.

The straightforward way recomputes `scipy.stats.linregress` over the last 60 s for each sample.
Run: python -m benchmarks.estimate
"""

from collections.abc import Iterator
from statistics import median
from time import process_time_ns

import numpy as np
from scipy.stats import linregress

from benchmarks.figure import Figure
from livemon import HeartRateSample, Monitor, OxygenationSample
from livemon.estimate.heart import HeartSteadiness
from livemon.estimate.muscle import Muscle
from livemon.warn.judge import Conviction, judge
from livemon.warn.settings import WarnSettings

RATE_HZ = 10
SECONDS = 600
REPEATS = 7
WINDOW = 60 * RATE_HZ
#: The noise is known by then, and the forest has been read.
FELL_AT_S = 120
FALL_PCT_PER_MIN = 8.0
WANTED = WarnSettings()
SITES = ("left thigh", "right forearm")
MOST_NS = 5_000
LEAST_RATIO = 20


def samples(sites: tuple[str, ...]) -> list[OxygenationSample | HeartRateSample]:
    """Ten minutes of level work at 10 Hz with one heart rate a second."""
    rng = np.random.default_rng(1)
    made: list[OxygenationSample | HeartRateSample] = []
    for i in range(SECONDS * RATE_HZ):
        t_s = i / RATE_HZ
        if i % RATE_HZ == 0:
            made.append(HeartRateSample(t_s, float(round(150 + rng.normal(0, 1)))))
        made += [OxygenationSample(t_s, site, float(55 + rng.normal(0, 1))) for site in sites]
    return made


def ns_per_sample(
    stream: list[OxygenationSample | HeartRateSample], sites: tuple[str, ...]
) -> float:
    """Feed everything to a fresh monitor; return nanoseconds for each oxygenation sample."""
    monitor = Monitor(sites=sites)
    begin = process_time_ns()
    for sample in stream:
        monitor.feed(sample)
    return (process_time_ns() - begin) / (SECONDS * RATE_HZ * len(sites))


def ns_of_the_estimate(pct_per_min: float = 0.0) -> float:
    """Only estimate and warn, once a second, shared out over the second's samples.

    In a fall of `pct_per_min` that is never told the evidence is weighed each second: the most
    that a second can cost.
    """
    rng = np.random.default_rng(1)
    fallen = pct_per_min / 60 * np.maximum(np.arange(SECONDS) - FELL_AT_S, 0)
    values = (75 - fallen + rng.normal(0, 0.4, SECONDS)).tolist()
    bpm = rng.normal(150, 1, SECONDS).tolist()
    muscle, heart, convinced = Muscle(None), HeartSteadiness(), Conviction()
    spent_ns = 0
    for second, (value, rate) in enumerate(zip(values, bpm, strict=True)):
        begin = process_time_ns()
        heart.update(rate)
        muscle.update(value, warned=False)
        judge(muscle, heart, WANTED, None, 0, convinced)
        muscle.trend()
        if second >= FELL_AT_S:
            spent_ns += process_time_ns() - begin
    return spent_ns / ((SECONDS - FELL_AT_S) * RATE_HZ)


def ns_per_linregress(values: np.ndarray) -> float:
    """Recompute the slope of the last 60 s for 500 samples."""
    t_s = np.arange(len(values)) / RATE_HZ
    begin = process_time_ns()
    for end in range(WINDOW, WINDOW + 500):
        linregress(t_s[end - WINDOW : end], values[end - WINDOW : end])
    return (process_time_ns() - begin) / 500


def figures() -> Iterator[Figure]:
    """Measure one site, two sites, the inside alone, and the straightforward way."""
    one, two = samples(SITES[:1]), samples(SITES)
    values = np.array([s.smo2_pct for s in one if isinstance(s, OxygenationSample)])
    ours = median(ns_per_sample(one, SITES[:1]) for _ in range(REPEATS)) / 1e3
    both = median(ns_per_sample(two, SITES) for _ in range(REPEATS)) / 1e3
    inner = median(ns_of_the_estimate() for _ in range(REPEATS)) / 1e3
    theirs = median(ns_per_linregress(values) for _ in range(REPEATS)) / 1e3
    falling = median(ns_of_the_estimate(FALL_PCT_PER_MIN) for _ in range(REPEATS)) / 1e3
    yield Figure("estimate and warning, a sample at 10 Hz", inner, "µs", at_most=MOST_NS / 1e3)
    yield Figure("the same, in a fall that is weighed each second", falling, "µs")
    yield Figure("all of `feed`, one site", ours, "µs a sample")
    share = both * len(SITES) * RATE_HZ / 1e4
    yield Figure("two sites at 10 Hz: share of one core", share, "%", at_most=0.3)
    beside = f"scipy.stats.linregress over the last 60 s: {theirs:.0f} µs"
    yield Figure("cheaper than recomputing", theirs / ours, "times", None, LEAST_RATIO, beside)


def main() -> int:
    """Print medians and their ratio; fail if a promise is broken."""
    one, two = samples(SITES[:1]), samples(SITES)
    values = np.array([s.smo2_pct for s in one if isinstance(s, OxygenationSample)])
    ours = median(ns_per_sample(one, SITES[:1]) for _ in range(REPEATS))
    both = median(ns_per_sample(two, SITES) for _ in range(REPEATS))
    inner = median(ns_of_the_estimate() for _ in range(REPEATS))
    falling = median(ns_of_the_estimate(FALL_PCT_PER_MIN) for _ in range(REPEATS))
    theirs = median(ns_per_linregress(values) for _ in range(REPEATS))
    share = both * len(SITES) * RATE_HZ / 1e9
    print(
        f"estimate and warn: {inner / 1e3:.2f} us a sample at 10 Hz (at most {MOST_NS / 1e3:.0f})"
    )
    print(f"                   {falling / 1e3:.2f} us in a fall that is weighed each second")
    print(f"all of feed:       {ours / 1e3:.2f} us a sample, one site")
    print(f"                   {both / 1e3:.2f} us a sample, two sites")
    print(f"two sites at 10 Hz: {share:.3%} of a core (at most 0.3 %)")
    print(f"linregress, 60 s:  {theirs / 1e3:.1f} us a sample")
    print(f"ratio:             {theirs / ours:.0f} times cheaper (at least {LEAST_RATIO})")
    return int(inner > MOST_NS or share > 0.003 or theirs < LEAST_RATIO * ours)


if __name__ == "__main__":
    raise SystemExit(main())
