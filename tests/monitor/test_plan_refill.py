"""Refilling against baseline, and the half-recovery time as it happens."""

from math import exp, log

import pytest

from livemon.monitor.refill import Refill, RefillWatch


def test_the_half_recovery_time_of_an_exponential_is_its_half_life() -> None:
    """By definition: closing on the baseline with time constant τ, it is half way after τ ln 2."""
    watch, tau_s = RefillWatch(70.0, 100.0), 30.0
    told = [watch.update(100 + t / 10, 70 - 40 * exp(-t / 10 / tau_s)) for t in range(1_000)]

    assert told[200].half_recovery_s is None
    assert told[-1].half_recovery_s == pytest.approx(tau_s * log(2), abs=0.1)


def test_says_how_far_it_is_in_words() -> None:
    watch = RefillWatch(65.0, 10.0)
    watch.update(10.0, 40.0)

    assert watch.update(58.0, 59.8).words() == "refilled to 92 % of baseline after 48 s"


def test_a_muscle_that_still_falls_begins_anew() -> None:
    watch = RefillWatch(60.0, 0.0)
    watch.update(0.0, 50.0)
    assert watch.update(5.0, 56.0).half_recovery_s == 5.0

    assert watch.update(8.0, 40.0).half_recovery_s is None
    assert watch.update(20.0, 50.0).half_recovery_s == 20.0
    assert watch.update(30.0, 58.0).half_recovery_s == 20.0  # it stays once it is known


def test_a_muscle_that_never_fell_has_no_way_back() -> None:
    watch = RefillWatch(60.0, 0.0)

    assert watch.update(0.0, 60.0) == Refill(100.0, 0.0, None)
    assert watch.update(9.0, 72.0) == Refill(120.0, 9.0, None)
