"""The straight line, against certified values and two libraries."""

import numpy as np
import pytest
import statsmodels.api as sm
from scipy.stats import linregress

from livemon.analyse.line import fit_line

# NIST Statistical Reference Datasets, linear regression, "Norris": y x pairs and certified values.
NORRIS = """0.1 0.2 | 338.8 337.4 | 118.1 118.2 | 888.0 884.6 | 9.2 10.1 | 228.1 226.5 |
668.5 666.3 | 998.5 996.3 | 449.1 448.6 | 778.9 777.0 | 559.2 558.2 | 0.3 0.4 | 0.1 0.6 |
778.1 775.5 | 668.8 666.9 | 339.3 338.0 | 448.9 447.5 | 10.8 11.6 | 557.7 556.0 | 228.3 228.1 |
998.0 995.8 | 888.8 887.6 | 119.6 120.2 | 0.3 0.3 | 0.6 0.3 | 557.6 556.8 | 339.3 339.1 |
888.0 887.2 | 998.5 999.0 | 778.9 779.0 | 10.2 11.1 | 117.6 118.3 | 228.9 229.2 | 668.4 669.1 |
449.2 448.9 | 0.2 0.5"""


def norris() -> tuple[np.ndarray, np.ndarray]:
    pairs = np.array([[float(v) for v in pair.split()] for pair in NORRIS.split("|")])
    return pairs[:, 1].copy(), pairs[:, 0].copy()


def test_meets_the_certified_values_of_norris() -> None:
    line = fit_line(*norris())

    assert line is not None
    assert line.slope == pytest.approx(1.00211681802045, rel=1e-12)
    assert line.intercept == pytest.approx(-0.262323073774029, rel=1e-11)
    assert line.slope_error == pytest.approx(0.429796848199937e-03, rel=1e-11)
    assert line.residual_sd == pytest.approx(0.884796396144373, rel=1e-11)
    assert line.residual_sum == pytest.approx(26.6173985294224, rel=1e-11)
    assert line.at(0.0) == pytest.approx(-0.262323073774029, rel=1e-11)
    assert line.at(500.0) - line.at(0.0) == pytest.approx(500 * 1.00211681802045, rel=1e-12)


@pytest.mark.parametrize("seed", range(5))
def test_agrees_with_scipy(seed: int) -> None:
    rng = np.random.default_rng(seed)
    x = np.cumsum(rng.uniform(0.1, 3, 80))
    y = 60 - 0.05 * x + rng.normal(size=80)

    line, oracle = fit_line(x, y), linregress(x, y)

    assert line is not None
    assert line.slope == pytest.approx(oracle.slope, rel=1e-10)
    assert line.slope_error == pytest.approx(oracle.stderr, rel=1e-10)


@pytest.mark.parametrize("seed", range(5))
def test_weighted_agrees_with_statsmodels(seed: int) -> None:
    rng = np.random.default_rng(seed)
    x, w = rng.uniform(200, 300, 12), rng.uniform(0.2, 5, 12)
    y = 10 - 0.04 * x + rng.normal(size=12)

    line, oracle = fit_line(x, y, w), sm.WLS(y, sm.add_constant(x), weights=w).fit()

    assert line is not None
    assert [line.intercept, line.slope] == pytest.approx(oracle.params.tolist(), rel=1e-9)
    assert line.residual_sum == pytest.approx(oracle.ssr, rel=1e-9)


def test_a_clock_far_from_zero_costs_no_digits() -> None:
    x = np.arange(120.0)
    near, far = fit_line(x, 60 - x / 20), fit_line(x + 4e8, 60 - x / 20)

    assert near is not None
    assert far is not None
    assert far.slope == pytest.approx(near.slope, rel=1e-12)


@pytest.mark.parametrize("x", [[], [1.0], [2.0, 2.0, 2.0]])
def test_no_line_through_fewer_than_two_places(x: list[float]) -> None:
    assert fit_line(np.array(x), np.array(x)) is None
