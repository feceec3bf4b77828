"""An invented session with heart rate, a working and a resting site, for the sheet's tests."""

import numpy as np

from livemon.analyse.bout import Bout, Intensity
from livemon.analyse.lactate import LactateSample
from livemon.analyse.series import Series
from livemon.analyse.session import AthleteRecord

THIGH, SHOULDER = "left thigh", "right shoulder"


def invented_record(
    athlete: str = "Ada Lind", slopes: tuple[float, ...] = (1.6, 0.6, -0.4, -1.6)
) -> AthleteRecord:
    """Bouts of five minutes at 210, 235, 260 ... W with given slopes in %/min."""
    rng = np.random.default_rng(8)
    n = 120 + 540 * len(slopes)
    thigh, heart, bouts = np.full(n, 68.0), np.full(n, 95.0), []
    s = np.arange(300.0)
    for i, slope in enumerate(slopes):
        at = 120 + 540 * i
        thigh[at : at + 300] = 68 - 15 * (1 - np.exp(-s / 12)) + slope * s / 60
        thigh[at + 300 : at + 540] = 68 - (68 - thigh[at + 299]) * np.exp(-np.arange(240) / 20)
        heart[at : at + 300] = 150 - 55 * np.exp(-s / 30)
        bouts.append(Bout(i + 1, at, at + 300, "ride", intensity=Intensity(210 + 25 * i, "W")))
    t_s = np.arange(n)
    return AthleteRecord(
        athlete,
        tuple(bouts),
        Series.of(t_s, heart + rng.normal(size=n) / 2),
        {
            THIGH: Series.of(t_s, thigh + rng.normal(size=n) / 2),
            SHOULDER: Series.of(t_s, 72 + rng.normal(size=n) / 2),
        },
        lactate=(LactateSample(100, 1.2, "ear"), LactateSample(430, 1.9, "ear")),
        band_bpm=(140, 160),
        idle_sites=frozenset({SHOULDER}),
    )
