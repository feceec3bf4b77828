"""The slope of the last minute, each second of an hour at 10 Hz: ours, and other ways to it.

The libraries are given the whole hour at once, in arrays: they can't be live, and they know neither
gaps nor trust nor an interval. Ours is fed sample by sample, and its time holds the admission, the
interval, the judgement of heart rate and the warning. So this is no contest over the same work: it
shows where livemon stands between a loop over a textbook's function and compiled code over arrays.
"""

import time
from collections.abc import Callable, Iterator

import numpy as np
import pandas as pd
import polars as pl
from scipy.stats import linregress

from benchmarks.figure import Figure, median_of
from livemon import Monitor, OxygenationSample

RATE_HZ, SECONDS, WINDOW_S = 10, 3600, 60
SITE = "left thigh"


def invented() -> tuple[np.ndarray, np.ndarray]:
    """Return an hour of times and values."""
    t_s = np.arange(SECONDS * RATE_HZ) / RATE_HZ
    noise = np.random.default_rng(1).normal(0, 1, len(t_s))
    return t_s, 55 + 3 * np.sin(t_s / 200) + noise


def spent(work: Callable[[], object]) -> float:
    """Return seconds of processor time."""
    begun_s = time.process_time()
    work()
    return time.process_time() - begun_s


def figures() -> Iterator[Figure]:
    """Measure all ways."""
    t_s, values = invented()
    window, each = WINDOW_S * RATE_HZ, RATE_HZ
    readings = zip(t_s.tolist(), values.tolist(), strict=True)
    samples = [OxygenationSample(at_s, SITE, value) for at_s, value in readings]

    def ours() -> None:
        monitor = Monitor(sites=(SITE,))
        for sample in samples:
            monitor.feed(sample)

    def scipy_each_second() -> None:
        for end in range(window, len(values) + 1, each):
            linregress(t_s[end - window : end], values[end - window : end])

    def numpy_windows() -> object:
        centred = t_s[:window] - t_s[:window].mean()
        windows = np.lib.stride_tricks.sliding_window_view(values, window)[::each]
        return windows @ centred / (centred @ centred)

    def with_pandas() -> object:
        times, readings = pd.Series(t_s), pd.Series(values)
        return times.rolling(window).cov(readings) / times.rolling(window).var()

    def with_polars() -> object:
        frame = pl.DataFrame({"t": t_s, "y": values})
        slope = pl.rolling_cov("t", "y", window_size=window) / pl.col("t").rolling_var(window)
        return frame.select(slope)

    mine_s = median_of(lambda: spent(ours))
    seconds = len(range(window, len(values) + 1, each))
    yield Figure("ours, live, with interval and judgement", 1e6 * mine_s / seconds, "µs a second")
    peers = (
        ("scipy.stats.linregress each second", scipy_each_second),
        ("numpy, one product over sliding windows", numpy_windows),
        ("pandas, rolling covariance, every sample", with_pandas),
        ("polars, rolling covariance, every sample", with_polars),
    )
    for name, work in peers:
        peer_s = median_of(lambda work=work: spent(work))
        yield Figure(
            name, 1e6 * peer_s / seconds, "µs a second", beside=f"{peer_s / mine_s:.2f} times ours"
        )
