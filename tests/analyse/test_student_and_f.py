"""Quantiles and tails, against scipy.stats."""

import pytest
from scipy import special, stats

from livemon.analyse.student import (
    f_quantile_one_above,
    f_tail,
    incomplete_beta,
    student_quantile,
)


@pytest.mark.parametrize("degrees", [1, 1.7, 2, 3, 7.25, 30, 200, 1e5])
@pytest.mark.parametrize("probability", [0.6, 0.9, 0.95, 0.975, 0.995])
def test_student_agrees_with_scipy(probability: float, degrees: float) -> None:
    oracle = stats.t.ppf(probability, degrees)

    assert student_quantile(probability, degrees) == pytest.approx(oracle, rel=1e-9)


def test_student_with_endless_degrees_is_normal() -> None:
    assert student_quantile(0.95, float("inf")) == pytest.approx(stats.norm.ppf(0.95), rel=1e-5)


def test_fewer_than_one_degree_counts_as_one() -> None:
    assert student_quantile(0.95, 0.2) == student_quantile(0.95, 1.0)


@pytest.mark.parametrize("f", [0.0, 0.3, 1.0, 4.2, 60.0])
@pytest.mark.parametrize(("above", "below"), [(1, 3), (2, 4), (2, 30), (5, 2.5)])
def test_f_tail_agrees_with_scipy(f: float, above: float, below: float) -> None:
    assert f_tail(f, above, below) == pytest.approx(stats.f.sf(f, above, below), rel=1e-10)


@pytest.mark.parametrize("degrees", [2, 5, 40])
def test_f_quantile_agrees_with_scipy(degrees: float) -> None:
    oracle = stats.f.ppf(0.9, 1, degrees)

    assert f_quantile_one_above(0.9, degrees) == pytest.approx(oracle, rel=1e-9)


@pytest.mark.parametrize("x", [0.0, 1e-9, 0.2, 0.5, 0.999, 1.0])
@pytest.mark.parametrize(("a", "b"), [(0.5, 0.5), (1, 3), (12.5, 0.5), (40, 60)])
def test_incomplete_beta_agrees_with_scipy(x: float, a: float, b: float) -> None:
    assert incomplete_beta(x, a, b) == pytest.approx(special.betainc(a, b, x), rel=1e-11)


def test_the_fraction_is_cut_off_where_it_converges_too_slowly_and_is_close_still() -> None:
    """I_0.5(a, a) is 0.5; at a = 1e7 that would take thousands of terms."""
    assert incomplete_beta(0.5, 1e7, 1e7) == pytest.approx(0.5, abs=1e-4)
