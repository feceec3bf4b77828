"""A bout at one site where something is missing: every figure says why it isn't there."""

import numpy as np
import pytest

from livemon.analyse.baseline import JUST_BEFORE, find_baseline
from livemon.analyse.blood_volume import Direction, judge_blood_volume
from livemon.analyse.bout import Bout
from livemon.analyse.correlated import Noise
from livemon.analyse.late import TOO_FEW, late_figures
from livemon.analyse.measure import Measure
from livemon.analyse.muscle import MuscleBout, judge_muscle
from livemon.analyse.onset import NO_FALL, fit_onset
from livemon.analyse.recovery import judge_recovery
from livemon.analyse.series import Series
from livemon.analyse.windows import Window

T_S = np.arange(0.0, 541.0)
QUIET = Noise(0.01, 0.0, 30)


def judged(smo2: Series, bout: Bout, *earlier: Bout, resting: Window | None = None) -> MuscleBout:
    return judge_muscle(
        "thigh",
        smo2,
        None,
        bout,
        (*earlier, bout),
        resting=resting,
        level_pct=None,
        own_low_pct=None,
    )


def test_a_level_before_without_known_noise_names_its_window_and_says_so() -> None:
    bout = Bout(1, 100, 340)
    found = find_baseline(Series.of(T_S, np.full(541, 70.0)), bout, (bout,), None, None, "%")

    assert (found.source, found.window) == (JUST_BEFORE, Window(40, 100))
    assert found.level.reason == "the noise of this bout is not known"


def test_a_pause_too_short_to_show_its_noise_leaves_that_to_the_resting_baseline() -> None:
    """The forty seconds before count half: four means of 5 s, of which no trend can be freed."""
    values = 70 + np.random.default_rng(3).normal(size=541)
    values[300:340] = 50
    before, bout = Bout(1, 120, 260), Bout(2, 300, 340)
    smo2 = Series.of(T_S, values)

    assert judged(smo2, bout, before).depth.nadir.reason == "too few samples in the bout"
    rested = judged(smo2, bout, before, resting=Window(0, 100))
    assert rested.depth.nadir.value == pytest.approx(50, abs=1)


def test_a_bout_of_half_a_second_has_neither_end_level_nor_area() -> None:
    values = 70 + np.random.default_rng(3).normal(size=541)
    blink = judged(Series.of(T_S, values), Bout(1, 100, 100.5))

    assert blink.baseline.level.value == pytest.approx(70, abs=1)
    assert blink.end_level.reason == "the bout is too short"
    assert blink.depth.area.reason == "too few samples in the bout"


def test_a_sensor_of_one_reading_in_12_s_covers_a_minute_but_shows_no_trend_in_it() -> None:
    slow = Series.of(np.arange(0, 600, 12.0), np.full(50, 60.0))

    assert slow.covered(60, 120) == 1
    assert late_figures(slow, Window(60, 120), "%").slope.reason == TOO_FEW
    assert late_figures(slow, Window(60, 240), "%").slope.value == pytest.approx(0)


@pytest.mark.parametrize(
    ("low", "direction"), [(2.0, Direction.UP), (-2.0, Direction.UNSURE), (0.0, Direction.UNSURE)]
)
def test_a_change_of_blood_volume_whose_interval_reaches_zero_has_no_direction(
    low: float, direction: Direction
) -> None:
    """Ten per cent more, but perhaps nothing."""
    before = Measure(10, 10, 10, "")
    late = Measure(11, 10 + low / 10, 11.9, "")
    found = judge_blood_volume(before, late, Measure(0, -1, 1, "%"))

    assert found.change.value == pytest.approx(10)
    assert found.direction is direction
    assert (found.reading == "") is (direction is Direction.UNSURE)


def test_an_exponential_of_less_than_five_points_is_no_fall_though_a_coarse_look_says_five() -> (
    None
):
    """4.9 points with a time constant of 31 s; the nearest that is looked for first is 40 s."""
    since = np.clip(T_S - 120.5, 0, None)

    def dropping(points: float) -> Series:
        return Series.of(T_S, 70 - points * (1 - np.exp(-since / 31)))

    assert fit_onset(dropping(4.9), Bout(1, 100, 340)).drop.reason == NO_FALL
    assert fit_onset(dropping(5.1), Bout(1, 100, 340)).drop.value == pytest.approx(5.1, abs=0.01)


def recovering(rest: np.ndarray, lost: np.ndarray | None = None) -> Series:
    """40 % until 200 s, then `rest`; the samples where `lost` never came."""
    values = np.concatenate([np.full(200, 40.0), rest])
    t_s = np.arange(float(len(values)))
    kept = np.ones(len(values), dtype=bool) if lost is None else ~np.isin(t_s, lost)
    return Series.of(t_s[kept], values[kept])


REST = Window(200, 380)
BEFORE = Measure(70, 69, 71, "%")


def test_without_a_whole_half_minute_a_recovery_has_no_peak() -> None:
    """Six samples are lost in every 29 s: enough covered, no half minute whole."""
    lost = np.concatenate([np.arange(start, start + 6) for start in range(205, 380, 29)])
    found = judge_recovery(recovering(np.full(190, 70.0), lost), REST, BEFORE, QUIET)

    assert found.half_time.reason == "no half minute without a gap"
    assert found.overshoot.value is None


def test_a_recovery_that_passes_the_middle_in_a_gap_has_no_half_time_and_no_rate() -> None:
    """40 % up to 210 s, nothing for ten seconds, 70 % after that."""
    rest = np.concatenate([np.full(10, 40.0), np.full(180, 70.0)])
    seen = judge_recovery(recovering(rest), REST, BEFORE, QUIET)
    unseen = judge_recovery(recovering(rest, np.arange(205, 216)), REST, BEFORE, QUIET)

    assert seen.half_time.value == pytest.approx(9.5, abs=0.1)
    assert unseen.half_time.reason == "SmO2 didn't clearly pass the half-way level"
    assert unseen.rate.reason == unseen.half_time.reason
    assert unseen.overshoot.value == pytest.approx(0, abs=0.1)


def test_without_thb_before_the_bout_its_change_is_not_known() -> None:
    """The tHb channel begins with the work."""
    smo2 = Series.of(T_S, 70 + np.random.default_rng(3).normal(size=541))
    thb = Series.of(T_S[100:], np.full(441, 12.0))
    bout = Bout(1, 100, 340)
    volume = judge_muscle(
        "thigh", smo2, thb, bout, (bout,), resting=None, level_pct=None, own_low_pct=None
    ).blood_volume

    assert volume is not None
    assert volume.change.reason == "tHb is missing before the bout"
    assert volume.direction is Direction.UNSURE
