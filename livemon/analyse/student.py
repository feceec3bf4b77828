"""Quantiles of Student's t and tail areas of Fisher's F, for any real degrees of freedom.

Both come from the regularised incomplete beta function, evaluated by its continued fraction
(Abramowitz & Stegun 1964, 26.5.8) in Lentz's way.
"""

from functools import lru_cache
from math import exp, inf, isfinite, lgamma, log, log1p
from typing import Final

_TINY: Final = 1e-300  # stands for a zero denominator in Lentz's recurrence
_CLOSE: Final = 1e-15
_MOST_TERMS: Final = 500
_NEVER_MORE: Final = 1e6  # degrees beyond this are the normal distribution to 6 digits


def _fraction(x: float, a: float, b: float) -> float:
    c, d = 1.0, 1 - (a + b) * x / (a + 1)
    d = 1 / (d if abs(d) > _TINY else _TINY)
    value = d
    for m in range(1, _MOST_TERMS):
        even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
        odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        for term in (even, odd):
            d = 1 + term * d
            d = 1 / (d if abs(d) > _TINY else _TINY)
            c = 1 + term / c
            c = c if abs(c) > _TINY else _TINY
            value *= c * d
        if abs(c * d - 1) < _CLOSE:
            break
    return value


def incomplete_beta(x: float, a: float, b: float) -> float:
    """Return I_x(a, b), the regularised incomplete beta function, for 0 <= x <= 1."""
    if x <= 0:
        return 0.0
    if x >= 1:
        return 1.0
    front = exp(lgamma(a + b) - lgamma(a) - lgamma(b) + a * log(x) + b * log1p(-x))
    if x < (a + 1) / (a + b + 2):
        return front * _fraction(x, a, b) / a
    return 1 - front * _fraction(1 - x, b, a) / b


def f_tail(f: float, degrees_above: float, degrees_below: float) -> float:
    """Return the probability that F is at least `f` by chance."""
    if f <= 0:
        return 1.0
    x = degrees_below / (degrees_below + degrees_above * f)
    return incomplete_beta(x, degrees_below / 2, degrees_above / 2)


def _t_tail(t: float, degrees: float) -> float:
    return incomplete_beta(degrees / (degrees + t * t), degrees / 2, 0.5) / 2


@lru_cache(maxsize=4096)
def student_quantile(probability: float, degrees: float) -> float:
    """Return t such that a share `probability` (0.5 to 1) lies below it.

    Degrees below 1 are taken as 1: the widest interval that this part ever states.
    """
    degrees = min(max(degrees, 1.0), _NEVER_MORE) if isfinite(degrees) else _NEVER_MORE
    low, high = 0.0, 1.0
    while _t_tail(high, degrees) > 1 - probability:
        high *= 2
    while high - low > 1e-13 * high:
        middle = (low + high) / 2
        if middle in (low, high):
            break
        if _t_tail(middle, degrees) > 1 - probability:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def f_quantile_one_above(probability: float, degrees: float) -> float:
    """Return the quantile of F with one degree above: the square of a two-sided t."""
    t = student_quantile((1 + probability) / 2, degrees)
    return t * t if isfinite(t) else inf
