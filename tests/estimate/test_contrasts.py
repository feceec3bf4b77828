"""Slopes, bends and their errors, against scipy, statsmodels and NIST."""

import numpy as np
import pytest
import statsmodels.api as sm
from scipy.linalg import toeplitz
from scipy.stats import linregress

from livemon.estimate.contrasts import Contrasts, Row, bend, knee, line, shape
from livemon.estimate.noise import LAGS_S
from livemon.series.bins import HISTORY_S

# NIST StRD, Norris: y, x (https://www.itl.nist.gov/div898/strd/lls/data/Norris.shtml).
NORRIS = [
    (0.1, 0.2), (338.8, 337.4), (118.1, 118.2), (888.0, 884.6), (9.2, 10.1), (228.1, 226.5),
    (668.5, 666.3), (998.5, 996.3), (449.1, 448.6), (778.9, 777.0), (559.2, 558.2), (0.3, 0.4),
    (0.1, 0.6), (778.1, 775.5), (668.8, 666.9), (339.3, 338.0), (448.9, 447.5), (10.8, 11.6),
    (557.7, 556.0), (228.3, 228.1), (998.0, 995.8), (888.8, 887.6), (119.6, 120.2), (0.3, 0.3),
    (0.6, 0.3), (557.6, 556.8), (339.3, 339.1), (888.0, 887.2), (998.5, 999.0), (778.9, 779.0),
    (10.2, 11.1), (117.6, 118.3), (228.9, 229.2), (668.4, 669.1), (449.2, 448.9), (0.2, 0.5),
]  # fmt: skip
NORRIS_SLOPE, NORRIS_SLOPE_SD, NORRIS_SD = 1.00211681802045, 0.429796848199937e-3, 0.884796396144373


def window(values: np.ndarray) -> np.ndarray:
    """Put `values` at the newest end of a history that holds nonsense before them."""
    return np.concatenate([np.full(HISTORY_S - len(values), 777.0), values])


def value(row: Row, values: np.ndarray) -> float:
    return Contrasts([row]).values(window(values))[0]


def white(sd: float) -> np.ndarray:
    return np.full(len(LAGS_S), sd * sd)


def autoregression(phi: float, sd: float, seconds: int, rng: np.random.Generator) -> np.ndarray:
    noise = np.empty(seconds)
    noise[0] = rng.normal(0, sd)
    for i in range(1, seconds):
        noise[i] = phi * noise[i - 1] + rng.normal(0, sd * np.sqrt(1 - phi * phi))
    return noise


def test_slope_and_error_of_norris_are_the_certified_ones() -> None:
    y, x = (np.array(column) for column in zip(*NORRIS, strict=True))
    row = shape(x)

    assert value(row, y) == pytest.approx(NORRIS_SLOPE, rel=1e-12)
    assert Contrasts([row]).errors(white(NORRIS_SD))[0] == pytest.approx(NORRIS_SLOPE_SD, rel=1e-9)


@pytest.mark.parametrize("seed", range(5))
@pytest.mark.parametrize("seconds", [6, 20, 80])
def test_a_line_is_that_of_scipy(seconds: int, seed: int) -> None:
    values = np.random.default_rng(seed).normal(60, 3, seconds)
    oracle = linregress(np.arange(seconds) / 60.0, values)
    row = line(seconds)
    residual_sd = oracle.stderr * np.sqrt(
        ((np.arange(seconds) / 60.0 - (seconds - 1) / 120) ** 2).sum()
    )

    assert value(row, values) == pytest.approx(oracle.slope, rel=1e-9)
    assert Contrasts([row]).errors(white(residual_sd))[0] == pytest.approx(oracle.stderr, rel=1e-9)


@pytest.mark.parametrize("phi", [0.0, 0.4, 0.85])
@pytest.mark.parametrize("seed", range(3))
def test_a_bend_and_a_knee_are_those_of_statsmodels_gls(phi: float, seed: int) -> None:
    after, before = 20, 42
    t = (np.arange(before + after) - before + 1) / 60.0
    y = 60 - 8 * np.maximum(t, 0) + autoregression(phi, 1.0, len(t), np.random.default_rng(seed))
    sigma = toeplitz(phi ** np.arange(len(t)))
    bent = sm.GLS(y, np.column_stack([np.ones_like(t), np.maximum(t, 0)]), sigma=sigma).fit()
    kneed = sm.GLS(
        y, np.column_stack([np.ones_like(t), np.minimum(t, 0), np.maximum(t, 0)]), sigma=sigma
    ).fit()

    assert value(bend(after, before, phi), y) == pytest.approx(bent.params[1], rel=1e-7)
    assert value(knee(after, before, phi), y) == pytest.approx(kneed.params[2], rel=1e-7)


@pytest.mark.parametrize("phi", [0.0, 0.5, 0.8])
def test_the_error_under_autocorrelated_noise_is_that_of_statsmodels_gls(phi: float) -> None:
    """The semivariogram is known at seven lags only; straight lines between cost a few per cent."""
    after, before, sd = 20, 42, 1.3
    t = (np.arange(before + after) - before + 1) / 60.0
    design = np.column_stack([np.ones_like(t), np.maximum(t, 0)])
    sigma = toeplitz(phi ** np.arange(len(t)))
    exact = np.sqrt(np.linalg.inv(design.T @ np.linalg.inv(sigma) @ design)[1, 1]) * sd
    semivariogram = sd * sd * (1 - phi ** np.array(LAGS_S, dtype=float))

    assert Contrasts([bend(after, before, phi)]).errors(semivariogram)[0] == pytest.approx(
        exact, rel=0.06
    )


def test_the_error_of_a_line_is_what_repeated_noise_shows() -> None:
    """Ordinary weights under AR(1): 2000 seeded runs; plain least squares would be 2.4 too sure."""
    rng, phi, sd, seconds = np.random.default_rng(3), 0.8, 1.0, 60
    row = line(seconds)
    slopes = [value(row, autoregression(phi, sd, seconds, rng)) for _ in range(2000)]
    semivariogram = sd * sd * (1 - phi ** np.array(LAGS_S, dtype=float))

    assert Contrasts([row]).errors(semivariogram)[0] == pytest.approx(np.std(slopes), rel=0.08)
    assert np.std(slopes) > 2.0 * Contrasts([row]).errors(white(sd))[0]


def test_the_error_agrees_with_a_hac_estimate() -> None:
    """The mean of statsmodels' Newey-West error over seeded runs.

    It is low by construction in windows of finite length, hence the lopsided limits.
    """
    rng, phi, seconds = np.random.default_rng(5), 0.6, 170
    t = np.arange(seconds) / 60.0
    hac = [
        sm.OLS(autoregression(phi, 1.0, seconds, rng), sm.add_constant(t))
        .fit(cov_type="HAC", cov_kwds={"maxlags": 12})
        .bse[1]
        for _ in range(80)
    ]
    semivariogram = 1 - phi ** np.array(LAGS_S, dtype=float)

    assert 0.95 < Contrasts([line(seconds)]).errors(semivariogram)[0] / np.mean(hac) < 1.35


@pytest.mark.parametrize("row", [line(20), bend(12, 30, 0.65), knee(9, 20, 0.4)])
def test_a_level_gives_nothing(row: Row) -> None:
    assert value(row, np.full(60, 63.0)) == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(
    ("ordinary", "white"),
    [
        (line(20), line(20, 0.0)),
        (bend(12, 30), bend(12, 30, 0.0)),
        (knee(9, 20), knee(9, 20, 0.0)),
        (shape(np.arange(9.0)), shape(np.arange(9.0), 0.0)),
    ],
)
def test_unless_noise_is_said_to_last_it_is_taken_as_white(ordinary: Row, white: Row) -> None:
    assert np.array_equal(ordinary.weights, white.weights)


def test_the_better_shape_has_the_larger_size_times_grip() -> None:
    """The true age of a bend explains most, as the residual sum of squares of numpy says too."""
    t = np.arange(-61.0, 1.0)
    y = 60 - 0.1 * np.maximum(t + 24, 0) + np.random.default_rng(1).normal(0, 0.2, 62)
    ages = (12, 17, 24, 35, 50)
    rows = Contrasts([bend(age, 62 - age) for age in ages])
    fits = [-v * g for v, g in zip(rows.values(window(y)), rows.grips, strict=True)]
    residuals = [np.polyfit(np.maximum(t + age, 0), y, 1, full=True)[1][0] for age in ages]

    assert ages[int(np.argmax(fits))] == ages[int(np.argmin(residuals))]
    explained = ((y - y.mean()) ** 2).sum() - np.array(residuals)
    assert np.array(fits) ** 2 == pytest.approx(explained, rel=1e-9)
