"""What a coach knows of muscles at work, as checks (common practice, no source)."""

import pytest
from athlete_traces import (
    SETTLED,
    SETTLED_HEART,
    SITE,
    changes,
    falling,
    heart,
    held,
    muscle,
    stream,
)  # fmt: skip

from livemon import Monitor, Priority, WarningOff, WarningOn, WarningRaised
from livemon.estimate.balance import Balance
from livemon.monitor.snapshot import Trust

SEEDS = pytest.mark.parametrize("seed", range(4))


@SEEDS
def test_a_dip_that_refills_is_supply_ahead_and_never_warned_of(seed: int) -> None:
    monitor = Monitor()
    smo2 = muscle((120, 68.0, 10.0), (45, 50.0, 10.0), (150, 64.0, 50.0))
    words, out = [], []
    for sample in stream(smo2, heart((120, 70), (195, 150)), seed=seed):
        out += monitor.feed(sample)
        if 185 < sample.t_s < 205:
            words.append(monitor.snapshot().sites[0].balance)

    assert not [c for c in out if isinstance(c, WarningOn)]
    assert words.count(Balance.SUPPLY_AHEAD) > 0.7 * len(words)


@SEEDS
@pytest.mark.parametrize("level", [55.0, 35.0])
def test_a_drop_that_stays_level_is_in_balance_shallow_or_deep(level: float, seed: int) -> None:
    monitor = Monitor()
    smo2 = muscle((120, 68.0, 10.0), (300, level, 14.0))
    out = changes(monitor, stream(smo2, heart((120, 70), (300, 150)), seed=seed))

    assert not [c for c in out if isinstance(c, WarningOn)]
    assert monitor.snapshot().sites[0].balance is Balance.IN_BALANCE


@SEEDS
def test_a_deeper_level_bout_after_a_shallow_one_is_still_in_balance(seed: int) -> None:
    monitor = Monitor()
    smo2 = muscle((60, 68.0, 10.0), (200, 55.0, 14.0), (120, 70.0, 15.0), (240, 38.0, 14.0))
    bpm = heart((60, 70), (200, 150), (120, 95), (240, 152))
    out = changes(monitor, stream(smo2, bpm, seed=seed))

    assert not [c for c in out if isinstance(c, WarningOn)]
    assert monitor.snapshot().sites[0].balance is Balance.IN_BALANCE


@SEEDS
@pytest.mark.parametrize(("rate", "within_s"), [(5.0, 45), (10.0, 30), (20.0, 24)])
def test_what_goes_on_falling_at_a_steady_heart_is_warned_of_once(
    rate: float, within_s: int, seed: int
) -> None:
    monitor = Monitor()
    smo2 = falling(SETTLED, rate, 75)
    bpm = SETTLED_HEART + [SETTLED_HEART[-1]] * 75
    on = [c for c in changes(monitor, stream(smo2, bpm, seed=seed)) if isinstance(c, WarningOn)]

    assert len(on) == 1
    assert on[0].site == SITE
    assert 8 <= on[0].t_s - len(SETTLED) <= within_s
    assert on[0].fall_rate_pct_per_min == pytest.approx(rate, rel=0.6)
    assert on[0].bpm == pytest.approx(150, abs=5)
    site = monitor.snapshot().sites[0]
    assert site.balance is Balance.DEMAND_AHEAD
    assert site.warning is not None


def test_no_warning_while_heart_rate_rises_with_the_load() -> None:
    smo2 = held(falling(SETTLED, 8.0, 60), 20)
    bpm = SETTLED_HEART + heart((1, SETTLED_HEART[-1]), (79, 178))

    assert not [c for c in changes(Monitor(), stream(smo2, bpm)) if isinstance(c, WarningOn)]


def test_it_ends_when_the_muscle_levels_off_and_when_work_stops() -> None:
    levels = held(falling(SETTLED, 8.0, 60), 60)
    stops = falling(SETTLED, 8.0, 60)
    stops += muscle((1, stops[-1], 1.0), (59, 72.0, 12.0))
    for smo2, within_s in ((levels, 40), (stops, 15)):
        bpm = SETTLED_HEART + [SETTLED_HEART[-1]] * 120
        off = [c for c in changes(Monitor(), stream(smo2, bpm)) if isinstance(c, WarningOff)]

        assert len(off) == 1
        assert 0 <= off[0].t_s - len(SETTLED) - 60 <= within_s


def test_at_the_low_it_says_so_and_near_it_the_warning_is_a_drain() -> None:
    """A fall of 5 %/min is a caution with room enough; it is raised as room gets short."""
    monitor = Monitor(own_low_pct={SITE: 42.0})
    smo2 = held(falling(SETTLED, 5.0, 140), 80)
    bpm = SETTLED_HEART + [SETTLED_HEART[-1]] * 220
    out = changes(monitor, stream(smo2, bpm))
    site = monitor.snapshot().sites[0]

    assert [c.priority for c in out if isinstance(c, WarningOn)] == [Priority.CAUTION]
    assert [c.priority for c in out if isinstance(c, WarningRaised)] == [Priority.DRAIN]
    assert site.balance is Balance.AT_LOW
    assert site.warning is None
    assert site.room_pct == pytest.approx(1.3, abs=1.2)


def test_a_fall_at_the_low_of_an_earlier_level_bout_is_raised_to_a_drain() -> None:
    """Nobody knows that 45 % is the end, but no room down to the lowest so far is little room."""
    monitor = Monitor()
    smo2 = muscle((120, 68.0, 10.0), (200, 45.0, 14.0), (120, 70.0, 20.0), (240, 54.0, 14.0))
    bpm = heart((120, 70.0), (200, 150.0), (120, 90.0), (240, 150.0))
    out = changes(monitor, stream(falling(smo2, 5.0, 110), bpm + [bpm[-1]] * 110))
    (on,) = (c for c in out if isinstance(c, WarningOn))
    (raised,) = (c for c in out if isinstance(c, WarningRaised))

    assert on.priority is Priority.CAUTION
    assert raised.priority is Priority.DRAIN
    assert raised.t_s > on.t_s


def test_what_a_noisy_start_cannot_tell_is_not_told_in_the_first_minute() -> None:
    """Without a minute of the sensor's own noise a wave of it looks like a fall."""
    monitor = Monitor()
    out = changes(monitor, stream(falling([60.0] * 20, 15.0, 38), [150.0] * 58))

    assert not [c for c in out if isinstance(c, WarningOn)]


def test_the_forecast_holds_the_time_to_the_low() -> None:
    """55 % falling 5 %/min to a low of 35 %: at 50 % three minutes are left."""
    monitor = Monitor(own_low_pct={SITE: 35.0})
    smo2 = falling(SETTLED, 5.0, 60)
    changes(monitor, stream(smo2, SETTLED_HEART + [SETTLED_HEART[-1]] * 60))
    band = monitor.snapshot().sites[0].forecast

    assert band is not None
    assert band.soonest_s < 180 < band.latest_s


@pytest.mark.parametrize("seed", [1, 2, 3, 4])
def test_a_slow_certain_fall_is_information_and_not_announced(seed: int) -> None:
    """1.2 %/min is milder than what counts as a fall (1.5), and clearly none too level."""
    monitor = Monitor()
    bpm = SETTLED_HEART + [SETTLED_HEART[-1]] * 200
    out = changes(monitor, stream(falling(SETTLED, 1.2, 200), bpm, noise_pct=0.15, seed=seed))
    shown = monitor.snapshot().sites[0].warning

    assert not [c for c in out if isinstance(c, WarningOn)]
    assert shown is not None
    assert shown.priority is Priority.INFORMATION


def test_a_deep_fall_without_heart_rate_is_told_late_and_in_other_words() -> None:
    smo2 = falling(SETTLED, 10.0, 110)
    on = [
        c for c in changes(Monitor(), stream(smo2, [None] * len(smo2))) if isinstance(c, WarningOn)
    ]

    assert [c.bpm for c in on] == [None]
    assert on[0].priority is Priority.CAUTION
    assert on[0].t_s - len(SETTLED) > 40


def test_a_slipped_sensor_is_a_fault_and_no_fall() -> None:
    monitor = Monitor()
    smo2 = [*SETTLED, *(level - 9.0 for level in SETTLED[-60:])]
    out = changes(monitor, stream(smo2, SETTLED_HEART + [SETTLED_HEART[-1]] * 60))

    assert [type(c).__name__ for c in out] == ["Slipped"]
    assert monitor.snapshot().sites[0].trust is Trust.GOOD
