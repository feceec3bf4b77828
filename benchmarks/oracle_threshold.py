"""Measure how often the oracle raises a false alarm, for the constant in livemon.score.oracle.

Run: python benchmarks/oracle_threshold.py      (about two minutes)

False alarms of a log-likelihood-ratio test come at a rate of C exp(-threshold). The table shows C
for thresholds that alarm often enough to be counted, over noises and slopes of the scenario set.
"""

import sys
from math import exp

import numpy as np

from livemon.score.conditions import draw, oximeter
from livemon.score.oracle import ALARMS_AT_ZERO, first_alarm
from livemon.score.whitening import whitener
from livemon.synthetic.noise import smoothed
from livemon.synthetic.oximeter import measured

HOURS = 30
THRESHOLDS = (3.0, 4.0, 5.0)
SLOPES_PCT_PER_MIN = (2.0, 4.0, 8.0, 16.0, 28.0)
CONDITIONS_EACH = 6


def alarms_per_hour(noise: np.ndarray, shape: np.ndarray, limit: float, rate_hz: float) -> float:
    """Count alarms on noise alone; after each one the oracle begins afresh."""
    chunk, every = int(3600 * rate_hz), max(1, round(rate_hz))
    at = alarms = 0
    while at < len(noise) - 10:
        alarm = first_alarm(noise[at : at + chunk], shape, limit, every)
        at += chunk if alarm is None else alarm + 1
        alarms += alarm is not None
    return alarms / HOURS


def main() -> None:
    """Print C for each condition, and its mean."""
    rng = np.random.default_rng(5)
    found = []
    for slope in SLOPES_PCT_PER_MIN:
        for _ in range(CONDITIONS_EACH):
            conditions = draw(rng)
            sensor = oximeter(rng, conditions, 60.0)
            t_s = np.arange(0, HOURS * 3600, 1 / sensor.rate_hz)
            white = whitener(sensor)
            noise = white(measured(rng, t_s, np.full(len(t_s), 60.0), sensor) - 60.0)
            fall_s = t_s[: int(min(240.0, 2100.0 / slope) * sensor.rate_hz)]
            shape = white(smoothed(fall_s, -slope / 60 * fall_s, sensor.smoothing_s))
            constants = [
                alarms_per_hour(noise, shape, h, sensor.rate_hz) * exp(h) for h in THRESHOLDS
            ]
            found.append(constants)
            line = " ".join(f"{c:7.0f}" for c in constants)
            sys.stdout.write(f"{slope:5.1f} %/min {line}  {conditions}\n")
    means = " ".join(f"{c:7.0f}" for c in np.mean(found, axis=0))
    sys.stdout.write(f"mean C      {means}   in use: {ALARMS_AT_ZERO:g}\n")


if __name__ == "__main__":
    main()
