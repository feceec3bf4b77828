"""The invented truth against closed forms."""

import math

import numpy as np
import pytest

from livemon.synthetic.body import Truth, truth
from livemon.synthetic.script import Body, Leg, Muscle, Phase, SitePhase, ramp

BODY = Body(muscles=(Muscle("thigh", rest_pct=70.0, low_pct=20.0),), rest_bpm=60.0)


def one_phase(site: SitePhase, seconds: float = 600.0, bpm: float = 150.0) -> Truth:
    return truth((Phase("run", True, seconds, bpm, (site,)),), BODY)


def at(true: Truth, t_s: float, values: np.ndarray) -> float:
    return float(np.interp(t_s, true.t_s, values))


def test_half_of_an_exponential_is_over_after_tau_ln_2() -> None:
    true = one_phase(SitePhase(level_pct=50.0, delay_s=10.0, tau_s=20.0))

    smo2 = true.sites[0].smo2_pct
    assert at(true, 10.0 + 20.0 * math.log(2), smo2) == pytest.approx(60.0, abs=0.01)
    assert at(true, 9.9, smo2) == pytest.approx(70.0, abs=1e-6)


def test_recovery_from_30_to_70_with_tau_20_reads_55_28_after_20_s() -> None:
    """Worked by hand: 70 - 40 / e."""
    work = Phase("run", True, 600.0, 150.0, (SitePhase(level_pct=30.0),))
    rest = Phase("recovery", False, 200.0, 80.0, (SitePhase(level_pct=70.0, delay_s=0, tau_s=20),))
    true = truth((work, rest), BODY)

    assert at(true, 620.0, true.sites[0].smo2_pct) == pytest.approx(55.2848, abs=0.01)


def test_60_to_54_pct_in_120_s_is_a_fall_of_3_a_minute() -> None:
    legs = (Leg(0.0, -5.0), Leg(120.0, -3.0), Leg(240.0, 0.0))
    site = one_phase(SitePhase(legs=legs)).sites[0]

    assert site.smo2_pct[[1200, 2400, 5000]] == pytest.approx([60.0, 54.0, 54.0], abs=1e-5)
    assert site.drift_pct_per_min[1800] == pytest.approx(-3.0)
    assert site.slope_pct_per_min[1800] == pytest.approx(-3.0)


def test_heart_rate_is_95_pct_settled_after_three_time_constants() -> None:
    true = one_phase(SitePhase())

    assert at(true, 3 * 35.0, true.heart_rate_bpm) == pytest.approx(
        150 - 90 * math.exp(-3), abs=1e-6
    )
    assert at(true, 3 * 35.0, true.heart_rate_bpm) == pytest.approx(60 + 0.95 * 90, abs=0.1)


def test_heart_rate_comes_down_slower_than_it_went_up() -> None:
    up = Phase("run", True, 600.0, 150.0, (SitePhase(),), drift_bpm_per_min=0.3)
    down = Phase("rest", False, 300.0, 60.0, (SitePhase(),))
    true = truth((up, down), BODY)

    assert at(true, 599.9, true.heart_rate_bpm) == pytest.approx(153.0, abs=0.01)
    left = (at(true, 650.0, true.heart_rate_bpm) - 60) / 93
    assert left == pytest.approx(1 / math.e, abs=1e-3)


def test_slopes_are_the_derivatives_of_what_they_belong_to() -> None:
    site_phase = SitePhase(level_pct=50, slow_pct=-8, slow_delay_s=90, legs=ramp(-6, 200.0, 500.0))
    true = one_phase(site_phase)
    site = true.sites[0]

    numeric = np.gradient(site.smo2_pct, true.t_s) * 60
    inside = np.ones(len(true.t_s), dtype=bool)
    for corner_s in (10.0, 90.0, 200.0, 500.0):  # a one-sided slope has no numeric match there
        inside &= np.abs(true.t_s - corner_s) > 0.15
    assert np.abs(numeric - site.slope_pct_per_min)[inside].max() < 0.02
    bpm_slope = np.gradient(true.heart_rate_bpm, true.t_s) * 60
    assert bpm_slope[1:-1] == pytest.approx(true.heart_rate_bpm_per_min[1:-1], abs=0.01)


def test_drift_leaves_out_the_onset() -> None:
    site = one_phase(SitePhase(level_pct=50.0, legs=ramp(-4.0, 0.0)), seconds=180.0).sites[0]

    assert site.slope_pct_per_min[150] < -40
    assert site.drift_pct_per_min == pytest.approx(-4.0, abs=0.02)
    assert site.onset_left[[0, 99, 1799]] == pytest.approx([1.0, 1.0, 0.0], abs=1e-4)


def test_a_fall_flattens_at_the_own_low_and_recovers_from_there() -> None:
    work = Phase("run", True, 900.0, 150.0, (SitePhase(legs=ramp(-10.0, 0.0)),))
    rest = Phase("recovery", False, 200.0, 80.0, (SitePhase(level_pct=75.0, tau_s=20.0),))
    true = truth((work, rest), BODY)
    site = true.sites[0]

    assert site.smo2_pct.min() >= 20.0
    assert site.smo2_pct[5000] == pytest.approx(20.0, abs=0.1)
    assert abs(site.slope_pct_per_min[5000]) < 0.1
    assert abs(site.drift_pct_per_min[5000]) < 0.1
    assert np.abs(np.diff(site.smo2_pct)).max() < 0.35
    # However far the script would have pushed it, it rises from just below the low.
    assert at(true, 930.0, site.smo2_pct) == pytest.approx(75 - 59.5 / math.e, abs=0.5)
    assert site.smo2_pct[-1] == pytest.approx(75.0, abs=0.1)


def test_a_dip_refills_and_an_overshoot_comes_back() -> None:
    dip = one_phase(SitePhase(level_pct=50.0, slow_pct=6.0, slow_delay_s=40.0, slow_tau_s=30.0))

    smo2 = dip.sites[0].smo2_pct
    assert smo2.min() < 53
    assert smo2[-1] == pytest.approx(56.0, abs=0.01)
    assert dip.sites[0].drift_pct_per_min.min() >= 0


def test_phases_join_without_a_jump_and_fill_the_whole_time() -> None:
    phases = tuple(
        Phase("run", True, seconds, 150.0, (SitePhase(level_pct=level, thb_pct=level / 50),))
        for seconds, level in ((33.33, 60.0), (0.05, 50.0), (20.0, 40.0), (61.7, 65.0))
    )
    true = truth(phases, BODY)

    assert len(true.t_s) == 1151
    for values in (true.sites[0].smo2_pct, true.sites[0].thb, true.heart_rate_bpm):
        assert len(values) == len(true.t_s)
        assert np.abs(np.diff(values)).max() < 0.4
    assert true.phase_starts_s == pytest.approx((0.0, 33.33, 33.38, 53.38))


def test_a_script_gives_the_same_truth_twice() -> None:
    site = SitePhase(level_pct=50.0, legs=ramp(-3, 100.0))
    first, second = one_phase(site), one_phase(site)

    assert np.array_equal(first.sites[0].smo2_pct, second.sites[0].smo2_pct)
