"""The balance word, the forecast band, the own low, freshness, easing, slips: by hand."""

import pytest

from livemon.estimate.balance import Balance, balance
from livemon.estimate.easing import Easing
from livemon.estimate.forecast import forecast
from livemon.estimate.freshness import Freshness
from livemon.estimate.low import OwnLow
from livemon.estimate.slip import SlipFilter
from livemon.estimate.slope import trend
from livemon.estimate.trend import Trend


@pytest.mark.parametrize(
    ("seen", "room", "word"),
    [
        pytest.param(None, None, Balance.UNSURE, id="nothing known"),
        pytest.param(Trend(-6, -8, -4), None, Balance.DEMAND_AHEAD, id="falling"),
        pytest.param(Trend(-6, -8, -0.5), None, Balance.IN_BALANCE, id="perhaps falling"),
        pytest.param(Trend(4, 2, 6), 1.0, Balance.SUPPLY_AHEAD, id="rising, even from the low"),
        pytest.param(Trend(4, 0.5, 6), None, Balance.IN_BALANCE, id="perhaps rising"),
        pytest.param(Trend(0, -1, 1), None, Balance.IN_BALANCE, id="level"),
        pytest.param(Trend(0, -1, 1), 2.9, Balance.AT_LOW, id="level near the low"),
        pytest.param(Trend(0, -1, 1), 3.0, Balance.IN_BALANCE, id="level above the low"),
        pytest.param(Trend(0, -6, 6), 1.0, Balance.AT_LOW, id="just narrow enough"),
        pytest.param(Trend(0, -7, 7), 1.0, Balance.UNSURE, id="too wide"),
    ],
)
def test_the_word(seen: Trend | None, room: float | None, word: Balance) -> None:
    assert balance(seen, room) is word


def test_the_band_holds_the_time_by_hand() -> None:
    """40 % now, low at 25 %, falling 3 %/min (2 to 4): 15 / 3 = 5 min.

    The interval is widened by a fifth, 1.8 to 4.2 %/min; at 0.05 %/s a level that is 2 s old has
    14.9 points left, and one that a device delayed by 2.5 s more has 14.775. So the band is
    14.775 / 4.2 to 14.9 / 1.8 min.
    """
    band = forecast(Trend(-3, -4, -2), 15.0, noise_sd=0.0)

    assert band is not None
    assert (band.soonest_s, band.latest_s) == pytest.approx((60 * 14.775 / 4.2, 60 * 14.9 / 1.8))
    assert band.soonest_s < 300 < band.latest_s


@pytest.mark.parametrize(
    ("seen", "room"),
    [
        pytest.param(None, 15.0, id="no trend"),
        pytest.param(Trend(-3, -4, -2), None, id="no low"),
        pytest.param(Trend(-3, -4, -2), 1.9, id="there already"),
        pytest.param(Trend(-3, -6, -0.7), 15.0, id="perhaps hardly falling"),
        pytest.param(Trend(-4, -9, -1), 15.0, id="too wide"),
    ],
)
def test_a_guess_is_hidden(seen: Trend | None, room: float | None) -> None:
    assert forecast(seen, room, noise_sd=0.5) is None


def test_with_two_points_of_room_there_is_a_band() -> None:
    assert forecast(Trend(-3, -4, -2), 2.0, noise_sd=0.0) is not None


@pytest.mark.parametrize("rate", [-0.8, -3.0])
def test_the_slowest_fall_has_a_band(rate: float) -> None:
    assert forecast(Trend(rate, rate, rate), 15.0, noise_sd=0.0) is not None


def test_a_low_counts_once_it_was_left() -> None:
    low = OwnLow(None)
    for level in (60.0, 50.0, 40.0):
        low.update(level, falling=False)
    assert low.pct is None

    low.update(45.0, falling=False)

    assert (low.pct, low.by_fall) == (40.0, False)


def test_a_fall_into_the_low_is_remembered() -> None:
    low = OwnLow(None)
    low.update(50.0, falling=False)
    low.update(30.0, falling=True)
    low.update(35.1, falling=False)

    assert (low.pct, low.by_fall) == (30.0, True)


def test_an_earlier_low_is_kept_until_a_lower_one() -> None:
    low = OwnLow(28.0)
    for level in (60.0, 40.0, 60.0):
        low.update(level, falling=False)
    assert (low.pct, low.by_fall) == (28.0, True)

    for level in (20.0, 30.0):
        low.update(level, falling=False)
    assert low.pct == 20.0


def test_a_slip_moves_the_low_along() -> None:
    low = OwnLow(28.0)
    low.shift(-5.0)

    assert low.pct == 23.0


@pytest.mark.parametrize(("step_pct", "pct"), [(-40.0, 0.0), (90.0, 100.0)])
def test_a_slip_moves_the_low_no_further_than_the_scale(step_pct: float, pct: float) -> None:
    low = OwnLow(28.0)
    low.shift(step_pct)

    assert low.pct == pct


@pytest.mark.parametrize(("step_pct", "pct"), [(0.0, 0.5), (-3.0, 0.0)])
def test_a_low_that_is_learned_is_never_below_zero(step_pct: float, pct: float) -> None:
    low = OwnLow(None)
    low.update(0.5, falling=False)
    low.shift(step_pct)
    low.update(10.0, falling=False)

    assert low.pct == pct


def test_a_low_that_is_only_met_again_says_nothing_new() -> None:
    by_rest = OwnLow(None)
    for level, falling in ((50.0, False), (30.0, False), (30.0, True), (36.0, False)):
        by_rest.update(level, falling=falling)
    by_fall = OwnLow(30.0)
    for level in (50.0, 30.0, 36.0):
        by_fall.update(level, falling=False)

    assert (by_rest.pct, by_rest.by_fall) == (30.0, False)
    assert (by_fall.pct, by_fall.by_fall) == (30.0, True)


@pytest.mark.parametrize(
    ("period_us", "stale_after_us"),
    [
        pytest.param(100_000, 3_000_000, id="10 Hz: never under 3 s"),
        pytest.param(2_000_000, 6_000_000, id="0.5 Hz: three periods"),
    ],
)
def test_stale_after_three_periods(period_us: int, stale_after_us: int) -> None:
    freshness = Freshness()
    last_us = 0
    for i in range(200):
        last_us = i * period_us
        freshness.seen(last_us)

    assert not freshness.stale(last_us + int(stale_after_us * 0.98))
    assert freshness.stale(last_us + int(stale_after_us * 1.02))
    assert freshness.age_s(last_us + 500_000) == 0.5


@pytest.mark.parametrize(("after_us", "is_stale"), [(10_000_000, False), (10_000_001, True)])
def test_up_to_ten_seconds_are_a_period_to_learn(after_us: int, is_stale: bool) -> None:
    """Learned by a tenth: 1.9 s, and three of them are 5.7 s; from an interruption nothing."""
    freshness = Freshness()
    freshness.seen(0)
    freshness.seen(after_us)

    assert freshness.stale(after_us + 5_700_000) is is_stale
    assert freshness.stale(after_us + 5_700_001)


def test_no_sensor_is_stale_before_three_seconds_have_passed() -> None:
    freshness = Freshness()
    freshness.seen(0)
    freshness.seen(100_000)

    assert not freshness.stale(3_100_000)
    assert freshness.stale(3_100_001)


def test_what_never_came_is_stale() -> None:
    assert Freshness().stale(0)
    assert Freshness().age_s(0) is None


def test_easing_begins_and_ends_by_fifteen_beats() -> None:
    easing = Easing()
    seen = []
    for bpm in (150, 155, 141, 139, 120, 130, 136):
        easing.update(bpm)
        seen.append(easing.eased)

    assert seen == [False, False, False, True, True, True, False]


def test_a_spike_is_dropped_and_a_slip_confirmed() -> None:
    slip = SlipFilter()
    assert not slip.judge(80.0, 60.0, 1, 0.5).use
    assert slip.judge(60.2, 60.0, 1, 0.5).use  # it came back: a spike

    outcomes = [slip.judge(value, 60.0, 1, 0.5) for value in (70.0, 70.3, 69.7)]

    assert [outcome.use for outcome in outcomes] == [False, False, True]
    assert outcomes[-1].step_pct == pytest.approx(10.0)


def test_wild_values_are_no_slip() -> None:
    slip = SlipFilter()

    assert not any(slip.judge(v, 60.0, 1, 0.5).use for v in (80.0, 30.0, 75.0, 40.0, 85.0))


def test_a_straight_series_is_read_from_the_longest_window() -> None:
    """Half-width 1.9 standard errors and 0.5 %/min."""
    seen = trend([-3.0, -3.1, -3.0], [2.0, 1.0, 0.2])

    assert seen is not None
    assert (seen.low_pct_per_min, seen.high_pct_per_min) == pytest.approx((-3.88, -2.12))


def test_a_bend_stops_the_window() -> None:
    """The long window says -1 +- 0.1; the short ones have seen the turn."""
    seen = trend([-9.0, -8.0, -1.0], [1.5, 1.0, 0.1])

    assert seen is not None
    assert seen.pct_per_min == -8.0


def test_no_slopes_no_trend() -> None:
    assert trend([], []) is None
