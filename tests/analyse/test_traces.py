"""Series, grid and smoothing."""

import numpy as np
import pytest
from invented_bouts import correlated_noise
from scipy.signal import savgol_filter

from livemon.analyse.bins import bin_means
from livemon.analyse.correlated import Noise, fit_correlated_line
from livemon.analyse.extreme import highest_held, lowest_held
from livemon.analyse.grid import Grid, local_quadratic, moving_mean, on_grid
from livemon.analyse.series import NOTHING, Series


def test_puts_in_order_and_leaves_out_what_is_not_finite() -> None:
    series = Series.of([3, 1, 2, 2, 4, float("nan")], [30, 10, 20, 99, float("nan"), 50])

    assert series.t_s.tolist() == [1, 2, 3]
    assert series.values.tolist() == [10, 20, 30]


def test_names_its_gaps() -> None:
    series = Series.of([0, 1, 2, 10, 11, 30], [5] * 6)

    assert series.gaps == ((2.0, 10.0), (11.0, 30.0))
    assert series.between(12, 40).gaps == ((11.0, 30.0),)


def test_a_slow_sensor_has_no_gap_between_its_own_samples() -> None:
    """One sample in four seconds: three of its periods are 12 s, and no gap is longer than 15."""
    slow = Series.of([0, 4, 8, 20, 24, 37], [5] * 6)
    slower = Series.of([0, 10, 20, 30, 46], [5] * 5)

    assert slow.gaps == ((24.0, 37.0),)
    assert slower.gaps == ((30.0, 46.0),)


@pytest.mark.parametrize(
    ("start", "end", "share"),
    [(0, 11, 3 / 11), (2, 10, 0.0), (10, 11, 1.0), (-10, 2, 2 / 12), (5, 5, 0.0), (40, 50, 0.0)],
)
def test_knows_how_much_is_covered(start: float, end: float, share: float) -> None:
    series = Series.of([0, 1, 2, 10, 11, 30], [5] * 6)

    assert series.covered(start, end) == pytest.approx(share)


def test_nothing_covers_nothing() -> None:
    assert NOTHING.covered(0, 10) == 0
    assert not on_grid(NOTHING, 0, 10).known.any()


def test_the_grid_leaves_gaps_unknown() -> None:
    grid = on_grid(Series.of([0, 1, 2, 3, 12, 13, 14], [0, 1, 2, 3, 12, 13, 14]), 0, 14)

    assert grid.t_s[grid.known].tolist() == [0, 1, 2, 3, 12, 13, 14]
    assert grid.values[grid.known].tolist() == [0, 1, 2, 3, 12, 13, 14]


def test_the_grid_averages_a_fast_sensor() -> None:
    """Ten samples a second that swing by a pedal stroke come out level."""
    t_s = np.arange(-1, 20, 0.1)
    grid = on_grid(Series.of(t_s, 50 + np.tile([2.0, -2.0], len(t_s) // 2)), 0, 18)

    assert grid.values == pytest.approx(np.full(19, 50.0), abs=1e-9)


def test_local_quadratic_agrees_with_scipy() -> None:
    values = np.random.default_rng(3).normal(size=60)
    grid = Grid(np.arange(60.0), values, np.ones(60, dtype=bool))

    smooth = local_quadratic(grid, 4)

    assert smooth.t_s.tolist() == list(range(4, 56))
    assert smooth.values == pytest.approx(savgol_filter(values, 9, 2)[4:-4], abs=1e-12)


def test_a_mean_over_a_gap_is_not_known() -> None:
    grid = Grid(np.arange(10.0), np.ones(10), np.arange(10) != 4)

    means = moving_mean(grid, 3)

    assert means.t_s[means.known].tolist() == [1, 2, 6, 7, 8]


def test_finds_the_lowest_half_minute_wherever_it_is() -> None:
    """A fixed window at the end would say 60."""
    t_s = np.arange(0.0, 300.0)
    values = np.where((t_s >= 100) & (t_s < 130), 40.0, 60.0)
    grid = on_grid(Series.of(t_s, values), 0, 299)

    lowest = lowest_held(grid, Noise(1e-9, 0.0, 30), "%")

    assert lowest is not None
    assert lowest.level.value == pytest.approx(40)
    assert lowest.middle_s == pytest.approx(114.5)


def test_the_luck_of_choosing_is_given_back() -> None:
    """Level at 50 with noise: the lowest half minute lies 0.8 below, corrected it does not."""
    rng = np.random.default_rng(6)
    plain, corrected = [], []
    for _ in range(150):
        values = 50 + correlated_noise(rng, 300, 5, 1.0) + rng.normal(size=300) / 2
        series = Series.of(np.arange(300.0), values)
        grid, fit = on_grid(series, 0, 299), fit_correlated_line(bin_means(series, 0, 300))
        assert fit is not None
        lowest = lowest_held(grid, fit.noise, "%")
        assert lowest is not None
        corrected.append(lowest.level.value)
        plain.append(moving_mean(grid, 30).values.min())

    assert np.mean(plain) < 49.3
    assert np.mean(corrected) == pytest.approx(50, abs=0.3)


def test_a_level_trace_has_its_low_anywhere() -> None:
    grid = on_grid(Series.of(np.arange(0.0, 200.0), np.full(200, 55.0)), 0, 199)

    lowest = lowest_held(grid, Noise(1.0, 0.3, 30), "%")

    assert lowest is not None
    assert (lowest.from_s, lowest.to_s) == (14.5, 184.5)


def test_the_highest_is_the_lowest_upside_down() -> None:
    t_s = np.arange(0.0, 120.0)
    grid = on_grid(Series.of(t_s, 80 - abs(t_s - 60)), 0, 119)
    upside_down = on_grid(Series.of(t_s, abs(t_s - 60) - 80), 0, 119)
    noise = Noise(0.5, 0.2, 20)

    highest, lowest = highest_held(grid, noise, "%"), lowest_held(upside_down, noise, "%")

    assert highest is not None
    assert lowest is not None
    assert highest.level.value == -(lowest.level.value or 0)
    assert highest.level.low == -(lowest.level.high or 0)
    assert highest.middle_s == lowest.middle_s


def test_no_half_minute_no_extreme() -> None:
    grid = on_grid(Series.of(np.arange(0.0, 20.0), np.zeros(20)), 0, 19)

    assert lowest_held(grid, Noise(1.0, 0.0, 9), "%") is None
    assert highest_held(grid, Noise(1.0, 0.0, 9), "%") is None


def test_a_trace_shorter_than_the_parabola_has_no_smooth_point() -> None:
    short = on_grid(Series.of(np.arange(0.0, 20.0), np.arange(20.0)), 0, 7)

    assert len(local_quadratic(short, 4).t_s) == 0
    assert len(moving_mean(short, 9).t_s) == 0
    assert local_quadratic(on_grid(Series.of(short.t_s, short.values), 0, 7), 3).t_s.tolist() == [
        3.0,
        4.0,
    ]
