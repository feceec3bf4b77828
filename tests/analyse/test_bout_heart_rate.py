"""Heart rate in a bout: by hand, by the trade's rule, and on a real record."""

import numpy as np
import pytest
from pyhrv_sample import LEAST_BPM, MEAN_BPM, MOST_BPM, NN_MS
from scipy.signal import medfilt

from livemon.analyse.bout import Bout
from livemon.analyse.heart_rate import HeartRateBout, artefact_share, judge_heart_rate
from livemon.analyse.series import NOTHING, Series
from livemon.estimate.steadiness import Steadiness

T_S = np.arange(0.0, 600.0)
BOUT = Bout(1, 0, 600)


def judged(bpm: np.ndarray, bout: Bout = BOUT) -> HeartRateBout:
    return judge_heart_rate(Series.of(T_S[: len(bpm)], bpm), bout, (140, 160))


def test_figures_by_hand() -> None:
    """Two minutes at 130, then 150 and on up by 0.5 bpm a minute."""
    bpm = np.where(T_S < 120, 130.0, 150 + 0.5 * (T_S - 120) / 60)
    found = judged(bpm)

    assert found.mean.value == pytest.approx(bpm.mean(), abs=0.05)
    assert found.drift.value == pytest.approx(0.5, rel=1e-9)
    assert found.drift.unit == "bpm/min"
    assert found.in_band.value == pytest.approx(480, abs=1)
    assert found.steadiness is Steadiness.STEADY
    assert found.time_to_steady.value == pytest.approx(120 - 60 + 45, abs=3)


def test_an_exponential_rise_is_steady_when_minutes_agree() -> None:
    """A rise of 60 bpm with a time constant of 30 s.

    Minutes beginning at s differ by 60 (30/60) (1 - e^-2)^2 e^(-s/30) = 22.43 e^(-s/30) bpm,
    which is 5 bpm at s = 45.0 s.
    """
    found = judged(90 + 60 * (1 - np.exp(-T_S / 30)))

    assert found.time_to_steady.value == pytest.approx(45.0, abs=1.5)


@pytest.mark.parametrize(
    ("step", "steadiness"),
    [(5.0, Steadiness.STEADY), (5.1, Steadiness.MOVING), (-5.1, Steadiness.MOVING)],
)
def test_steady_is_five_beats_between_minutes(step: float, steadiness: Steadiness) -> None:
    """YMCA cycle test: heart rates of minutes 2 and 3 may not differ by more than 5 bpm."""
    assert judged(np.where(T_S < 540, 140.0, 140.0 + step)).steadiness is steadiness


def test_still_moving_has_no_time_to_steady() -> None:
    found = judged(100 + T_S / 8)

    assert found.time_to_steady.value is None
    assert "still moving" in found.time_to_steady.reason
    assert found.steadiness is Steadiness.MOVING


def test_artefacts_make_it_undecidable() -> None:
    bpm = np.full(600, 150.0)
    bpm[::50] = 75  # 2 % at half the rate, as a missed beat gives

    assert judged(bpm).steadiness is Steadiness.UNDECIDABLE


def test_a_real_resting_record() -> None:
    """The sample of pyhrv, 337 beats in 5 min, with its published statistics.

    It gives the mean over beats, 68.215 bpm, and extremes of 50.2 and 83.4 bpm; the mean over time
    is 60 times beats by seconds. At rest breathing alone moves more than 1 % of the beats 20 % off
    the median of their neighbours, so steadiness is left open: the rule is made for work.
    """
    nn_ms = np.array(NN_MS, dtype=float)
    beats_bpm, ends_s = 60_000 / nn_ms, np.cumsum(nn_ms) / 1000
    series = Series.of(ends_s, beats_bpm)
    assert len(nn_ms) == 337
    assert beats_bpm.mean() == pytest.approx(MEAN_BPM, rel=1e-12)
    assert (beats_bpm.min(), beats_bpm.max()) == pytest.approx((LEAST_BPM, MOST_BPM), rel=1e-12)

    found = judge_heart_rate(series, Bout(1, 0, float(ends_s[-1])), None)

    over_time = 60 * len(nn_ms) / ends_s[-1]
    assert found.mean.value == pytest.approx(over_time, abs=0.5)
    assert abs(found.drift.value or 9) < 2
    off = np.abs(beats_bpm - medfilt(beats_bpm, 11)) > 0.2 * medfilt(beats_bpm, 11)
    assert artefact_share(series) == pytest.approx(off[5:-5].mean())
    assert found.steadiness is Steadiness.UNDECIDABLE


@pytest.mark.parametrize("bpm", [np.array([]), np.array([150.0]), np.full(100, 150.0)])
def test_too_little_is_said_in_words(bpm: np.ndarray) -> None:
    found = judged(bpm)

    assert found.steadiness is Steadiness.UNDECIDABLE
    for figure in (found.mean, found.drift, found.in_band, found.time_to_steady):
        assert figure.value is None
        assert figure.reason


def test_time_in_band_counts_both_limits_and_nothing_beyond() -> None:
    bpm = np.select([T_S < 100, T_S < 250, T_S < 400], [139.9, 140.0, 160.0], 160.1)

    assert judged(bpm).in_band.value == 300


def test_no_band_no_time_in_it() -> None:
    found = judge_heart_rate(Series.of(T_S, np.full(600, 150.0)), BOUT, None)

    assert found.in_band.value is None
    assert "no heart rate band" in found.in_band.reason


def test_a_short_bout_has_a_mean_but_no_drift() -> None:
    found = judged(np.full(600, 150.0), Bout(1, 0, 60))

    assert found.mean.value == 150
    assert found.drift.value is None
    assert found.steadiness is Steadiness.UNDECIDABLE


def test_nothing_recorded() -> None:
    assert judge_heart_rate(NOTHING, BOUT, (140, 160)).mean.reason


def test_fewer_readings_than_a_median_needs_hold_no_artefact() -> None:
    bpm = np.full(11, 60.0)
    bpm[5] = 200

    assert artefact_share(Series.of(T_S[:10], bpm[:10])) == 0.0
    assert artefact_share(Series.of(T_S[:11], bpm)) == 1.0
