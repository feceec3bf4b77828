"""The line through errors that hang together: algebra against full matrices, truth held."""

import numpy as np
import pytest
from invented_bouts import correlated_noise
from scipy.linalg import toeplitz

from livemon.analyse.bins import Bins, bin_means
from livemon.analyse.correlated import Noise, fit_correlated_line
from livemon.analyse.measure import around
from livemon.analyse.series import Series


@pytest.mark.parametrize("dropped", [(), (3, 4, 11)], ids=["whole", "with holes"])
def test_errors_agree_with_the_full_covariance_matrix(dropped: tuple[int, ...]) -> None:
    """(X'X)^-1 X'VX (X'X)^-1 with V of the fit's own correlation, by numpy's matrices.

    The noise is that about a parabola.
    """
    rng = np.random.default_rng(1)
    index = np.array([i for i in range(30) if i not in dropped])
    values = 50 - 0.02 * 5 * index + correlated_noise(rng, 40, 2, 1)[index]
    fit = fit_correlated_line(Bins(index, index * 5.0, values))
    assert fit is not None
    assert 0 < fit.noise.rho < 0.9

    dt = index * 5.0 - fit.line.centre
    parabola = np.column_stack([np.ones(len(index)), dt, dt**2])
    hat = parabola @ np.linalg.pinv(parabola)
    residuals = values - hat @ values
    v = toeplitz(fit.noise.rho ** np.arange(30))[np.ix_(index, index)]
    variance = residuals @ residuals / np.trace((np.eye(len(index)) - hat) @ v)
    design = parabola[:, :2]
    bread = np.linalg.inv(design.T @ design)
    covariance = bread @ design.T @ v @ design @ bread * variance

    assert fit.noise.sd == pytest.approx(np.sqrt(variance), rel=1e-9)
    assert fit.level_error == pytest.approx(np.sqrt(covariance[0, 0]), rel=1e-9)
    assert fit.slope_error == pytest.approx(np.sqrt(covariance[1, 1]), rel=1e-9)


def test_error_of_a_mean_agrees_with_the_full_covariance_matrix() -> None:
    v = toeplitz(0.6 ** np.arange(6))

    assert Noise(1.5, 0.6, 20).error_of_mean(6) == pytest.approx(1.5 * np.sqrt(v.sum()) / 6)


@pytest.mark.parametrize(("tau_s", "white"), [(5.0, 0.5), (5.0, 1.5), (0.01, 1.0)])
def test_the_slope_interval_holds_the_truth_nine_times_in_ten(tau_s: float, white: float) -> None:
    rng = np.random.default_rng(9)
    t_s = np.arange(0.0, 120.0)
    held = []
    for _ in range(400):
        noise = correlated_noise(rng, 120, tau_s, 1.0) + white * rng.normal(size=120)
        fit = fit_correlated_line(bin_means(Series.of(t_s, 50 - t_s / 60 + noise), 0, 120))
        assert fit is not None
        slope = around(fit.line.slope * 60, fit.slope_error * 60, fit.noise.degrees, "%/min")
        assert slope.low is not None
        assert slope.high is not None
        held.append(slope.low <= -1 <= slope.high)

    # 400 draws know a share of 0.9 to ±0.025; mixed noise at two minutes is the worst case.
    assert 0.84 <= np.mean(held) <= 0.95


@pytest.mark.parametrize("hertz", [0.5, 1.0, 4.0, 10.0])
def test_a_linear_fall_is_minus_three_at_any_rate(hertz: float) -> None:
    """60 to 54 % in 120 s."""
    t_s = np.arange(0, 120, 1 / hertz)
    fit = fit_correlated_line(bin_means(Series.of(t_s, 60 - t_s / 20), 0, 120))

    assert fit is not None
    assert fit.line.slope * 60 == pytest.approx(-3, rel=1e-9)


def test_a_linear_fall_stays_minus_three_with_odd_times_and_a_gap() -> None:
    rng = np.random.default_rng(2)
    t_s = np.cumsum(rng.uniform(0.2, 1.8, 110))
    t_s = t_s[(t_s < 40) | (t_s > 65)]
    fit = fit_correlated_line(bin_means(Series.of(t_s, 60 - t_s / 20), 0, 120))

    assert fit is not None
    assert fit.line.slope * 60 == pytest.approx(-3, rel=1e-9)


def test_a_curve_is_not_taken_for_noise() -> None:
    """A muscle that refills in a curve has the same noise as one that refills in a line."""
    t_s = np.arange(0.0, 160.0)
    noise = np.random.default_rng(4).normal(size=160)
    straight = fit_correlated_line(bin_means(Series.of(t_s, 50 + noise), 0, 160))
    curved = fit_correlated_line(bin_means(Series.of(t_s, 50 + t_s**2 / 4000 + noise), 0, 160))

    assert straight is not None
    assert curved is not None
    assert curved.noise.sd == pytest.approx(straight.noise.sd, rel=0.01)
    assert curved.slope_error == pytest.approx(straight.slope_error, rel=0.01)


def test_too_few_bins_give_nothing() -> None:
    t_s = np.arange(0.0, 35.0)

    assert fit_correlated_line(bin_means(Series.of(t_s, t_s), 0, 35)) is None
