"""Numbers as people read them."""

import math

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from livemon.view.numbers import clock, minutes_ahead, rate, signed, span, whole


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        pytest.param(158.4, "158", id="rounds"),
        pytest.param(None, "–", id="unknown is a dash"),
        pytest.param(math.nan, "–", id="so is what is not a number"),
        pytest.param(-0.2, "0", id="no minus before nothing"),
        pytest.param(-3.0, "−3", id="a minus sign, not a hyphen"),
    ],
)
def test_whole(value: float | None, shown: str) -> None:
    assert whole(value) == shown


@pytest.mark.parametrize(
    ("value", "shown"),
    [(-4.13, "−4.1"), (0.3, "+0.3"), (-0.04, "0.0"), (0.04, "0.0"), (None, "–"), (math.inf, "–")],
)
def test_signed(value: float | None, shown: str) -> None:
    assert signed(value) == shown


@pytest.mark.parametrize(
    ("value", "shown"), [(6.0, "6"), (4.1, "4.1"), (-4.1, "4.1"), (12.4, "12"), (9.96, "10")]
)
def test_rate_has_no_sign_and_no_needless_decimal(value: float, shown: str) -> None:
    assert rate(value) == shown


@pytest.mark.parametrize(
    ("seconds", "shown"),
    [(0, "0:00"), (59.9, "0:59"), (192, "3:12"), (3727, "1:02:07"), (-1, "0:00"), (None, "–")],
)
def test_clock(seconds: float | None, shown: str) -> None:
    assert clock(seconds) == shown


@pytest.mark.parametrize(("seconds", "shown"), [(24.9, "24 s"), (60, "1:00"), (130, "2:10")])
def test_span(seconds: float, shown: str) -> None:
    assert span(seconds) == shown


@pytest.mark.parametrize(
    ("soonest_s", "latest_s", "shown"),
    [
        pytest.param(240, 360, "in 4–6 min", id="whole minutes stay"),
        pytest.param(228, 356, "in 3–6 min", id="rounded outwards"),
        pytest.param(20, 50, "within 1 min", id="soon"),
        pytest.param(20, 130, "within 3 min", id="soon or later"),
        pytest.param(300, math.inf, "in 5 min or more", id="no far end"),
        pytest.param(30, math.inf, "at a time too uncertain to say", id="no end at all"),
        pytest.param(1801, 4000, "not within 30 min", id="far"),
    ],
)
def test_minutes_ahead(soonest_s: float, latest_s: float, shown: str) -> None:
    assert minutes_ahead(soonest_s, latest_s) == shown


@example(value=-0.05)
@example(value=0.05)
@given(value=st.floats())
def test_whatever_comes_nothing_reads_nan_or_inf(value: float) -> None:
    for text in (whole(value), signed(value), rate(value), clock(value), span(value)):
        assert "n" not in text  # neither nan nor inf
        assert "-" not in text  # hyphens are for words
