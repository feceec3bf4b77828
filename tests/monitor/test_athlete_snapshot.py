"""Ages, trust, sites and refusals in the snapshot."""

import pytest
from athlete_traces import SITE

from livemon import HeartRateSample, Monitor, OxygenationSample
from livemon.estimate.balance import Balance
from livemon.estimate.steadiness import Steadiness
from livemon.monitor.snapshot import Trust


def test_before_anything_came_nothing_is_known() -> None:
    snapshot = Monitor().snapshot()
    site = snapshot.sites[0]

    assert (site.smo2_pct, site.trend, site.forecast, site.warning) == (None, None, None, None)
    assert site.balance is Balance.UNSURE
    assert snapshot.heart_rate.trust is Trust.ABSENT
    assert snapshot.heart_rate.steadiness is Steadiness.UNDECIDABLE
    assert snapshot.refused == ()


@pytest.mark.parametrize(
    ("silent_s", "trust"), [(2.9, Trust.GOOD), (3.0, Trust.GOOD), (3.1, Trust.STALE)]
)
def test_a_value_goes_stale_when_time_passes(silent_s: float, trust: Trust) -> None:
    monitor = Monitor()
    for second in range(20):
        monitor.feed(OxygenationSample(float(second), SITE, 60.0))
    monitor.advance(19.0 + silent_s)
    site = monitor.snapshot().sites[0]

    assert site.trust is trust
    assert site.age_s == pytest.approx(silent_s)
    assert site.smo2_pct == 60.0


def test_a_slow_sensor_is_given_three_of_its_periods() -> None:
    monitor = Monitor()
    for i in range(100):
        monitor.feed(OxygenationSample(2.0 * i, SITE, 60.0))
    monitor.advance(198.0 + 5.8)

    assert monitor.snapshot().sites[0].trust is Trust.GOOD


def test_no_contact_is_said_and_leaves_the_last_value_with_its_age() -> None:
    monitor = Monitor()
    monitor.feed(OxygenationSample(0.0, SITE, 60.0))
    monitor.feed(OxygenationSample(1.0, SITE, None))
    monitor.feed(HeartRateSample(1.0, 150, contact=False))
    snapshot = monitor.snapshot()

    assert snapshot.sites[0].trust is Trust.NO_CONTACT
    assert snapshot.sites[0].smo2_pct == 60.0
    assert snapshot.heart_rate.trust is Trust.NO_CONTACT
    assert dict(snapshot.refused) == {"no value": 1, "no contact": 1}


def test_a_value_held_back_makes_the_site_suspect() -> None:
    monitor = Monitor()
    for second in range(30):
        monitor.feed(OxygenationSample(float(second), SITE, 60.0))
    for second in (30, 31):
        monitor.feed(OxygenationSample(float(second), SITE, 74.0))

    assert monitor.snapshot().sites[0].trust is Trust.SUSPECT


def test_a_site_that_was_not_named_is_added_behind_the_others() -> None:
    monitor = Monitor(sites=("left thigh", "right thigh"))
    for site in ("right calf", "left calf", "right thigh"):
        monitor.feed(OxygenationSample(0.0, site, 60.0))

    names = [site.site for site in monitor.snapshot().sites]
    assert names == ["left thigh", "right thigh", "right calf", "left calf"]


def test_a_baseline_is_shown_for_its_site() -> None:
    monitor = Monitor(sites=("a", "b"))
    monitor.set_baseline("b", 71.0)

    assert [site.baseline_pct for site in monitor.snapshot().sites] == [None, 71.0]


def test_the_trails_hold_one_value_a_second_and_a_break_where_there_was_none() -> None:
    monitor = Monitor()
    for second in (*range(10), *range(20, 25)):
        monitor.feed(OxygenationSample(second + 0.5, SITE, 60.0 + second))
        monitor.advance(second + 0.9)
    monitor.advance(26.0)
    t_ns, values = monitor.snapshot().sites[0].trail.read()

    assert (t_ns[1:] > t_ns[:-1]).all()
    assert (values != values).sum() == 1
    assert values[-1] == 84.0
