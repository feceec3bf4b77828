"""The curve fit, against certified values of NIST and against lmfit."""

from collections.abc import Sequence
from math import exp

import lmfit
import numpy as np
import pytest

from livemon.analyse.curve import fit_curve
from livemon.analyse.onset import delayed_exponential

# NIST Statistical Reference Datasets, nonlinear regression: data, starts and certified values.
MISRA1A_Y = [10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.40]
MISRA1A_X = [77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1]
MISRA1A = ([*MISRA1A_X, 689.1, 760.0], [*MISRA1A_Y, 75.47, 81.78])
BOXBOD = ([1.0, 2.0, 3.0, 5.0, 7.0, 10.0], [109.0, 149.0, 149.0, 191.0, 213.0, 224.0])
MGH17_Y = """.844 .908 .932 .936 .925 .908 .881 .850 .818 .784 .751 .718 .685 .658 .628 .603 .580
.558 .538 .522 .506 .490 .478 .467 .457 .448 .438 .431 .424 .420 .414 .411 .406"""
MGH17 = ([10.0 * i for i in range(33)], [float(v) for v in MGH17_Y.split()])


def saturation(p: Sequence[float], x: float) -> tuple[float, Sequence[float]]:
    left = exp(-p[1] * x)
    return p[0] * (1 - left), (1 - left, p[0] * x * left)


def two_exponentials(p: Sequence[float], x: float) -> tuple[float, Sequence[float]]:
    a, b = exp(-x * p[3]), exp(-x * p[4])
    return p[0] + p[1] * a + p[2] * b, (1.0, a, b, -x * p[1] * a, -x * p[2] * b)


@pytest.mark.parametrize("start", [(500, 1e-4), (250, 5e-4)])
def test_meets_the_certified_values_of_misra1a(start: tuple[float, float]) -> None:
    curve = fit_curve(saturation, start, *MISRA1A)

    assert curve is not None
    assert curve.parameters == pytest.approx((2.3894212918e02, 5.5015643181e-04), rel=1e-8)
    assert curve.errors == pytest.approx((2.7070075241e00, 7.2668688436e-06), rel=1e-7)
    assert curve.residual_sum == pytest.approx(1.2455138894e-01, rel=1e-9)
    assert curve.residual_sd == pytest.approx(1.0187876330e-01, rel=1e-9)


@pytest.mark.parametrize("start", [(1, 1), (100, 0.75)], ids=["hard", "near"])
def test_meets_the_certified_values_of_boxbod(start: tuple[float, float]) -> None:
    curve = fit_curve(saturation, start, *BOXBOD)

    assert curve is not None
    assert curve.parameters == pytest.approx((2.1380940889e02, 5.4723748542e-01), rel=1e-8)
    assert curve.errors == pytest.approx((1.2354515176e01, 1.0455993237e-01), rel=1e-7)
    assert curve.residual_sum == pytest.approx(1.1680088766e03, rel=1e-9)


def test_meets_the_certified_values_of_mgh17() -> None:
    """A rise, an overshoot and a decay: the shape of SmO2 after work."""
    certified = (3.7541005211e-01, 1.9358469127, -1.4646871366, 1.2867534640e-02, 2.2122699662e-02)

    curve = fit_curve(two_exponentials, (0.5, 1.5, -1, 0.01, 0.02), *MGH17)

    assert curve is not None
    assert curve.parameters == pytest.approx(certified, rel=1e-8)
    assert curve.residual_sum == pytest.approx(5.4648946975e-05, rel=1e-8)


def test_the_hard_start_of_mgh17_gives_nothing_rather_than_something_wrong() -> None:
    assert fit_curve(two_exponentials, (50, 150, -100, 1, 2), *MGH17) is None


@pytest.mark.parametrize("seed", range(5))
def test_agrees_with_lmfit_on_an_onset(seed: int) -> None:
    rng = np.random.default_rng(seed)
    t = np.arange(-20.0, 120.0, 2.0)
    y = [delayed_exponential((68, -20, 9.3, 14), at)[0] for at in t] + rng.normal(size=len(t)) / 2
    start = (67.0, -18.0, 10.0, 12.0)

    def residual(p: lmfit.Parameters) -> list[float]:
        values = [p[name].value for name in ("level", "change", "delay", "tau")]
        return [delayed_exponential(values, at)[0] - seen for at, seen in zip(t, y, strict=True)]

    parameters = lmfit.Parameters()
    for name, value in zip(("level", "change", "delay", "tau"), start, strict=True):
        parameters.add(name, value=value)
    oracle = lmfit.minimize(residual, parameters, xtol=1e-12, ftol=1e-12)
    curve = fit_curve(delayed_exponential, start, t.tolist(), y.tolist())

    assert curve is not None
    expected = [oracle.params[name].value for name in ("level", "change", "delay", "tau")]
    errors = [oracle.params[name].stderr for name in ("level", "change", "delay", "tau")]
    assert curve.parameters == pytest.approx(expected, rel=1e-5)
    assert curve.errors == pytest.approx(errors, rel=1e-3)  # lmfit differentiates numerically


def test_too_few_points_give_nothing() -> None:
    assert fit_curve(saturation, (1, 1), [1.0, 2.0], [3.0, 4.0]) is None


def test_an_overflowing_start_gives_nothing() -> None:
    assert fit_curve(saturation, (1.0, -1e6), *BOXBOD) is None
