"""One bout at one site: figures that can be worked out by hand."""

import numpy as np
import pytest

from livemon.analyse.blood_volume import Direction
from livemon.analyse.bout import Bout
from livemon.analyse.muscle import MuscleBout, judge_muscle
from livemon.analyse.series import NOTHING, Series
from livemon.analyse.windows import Window

BOUT = Bout(1, 100, 340)
T_S = np.arange(0.0, 541.0)


def trace(work: np.ndarray, rest_level: float = 70.0, tau_s: float = 20.0) -> np.ndarray:
    """70 % before, `work` in the bout, exponential recovery to 70 % after it."""
    values = np.full(len(T_S), rest_level)
    values[100:340] = work
    values[340:] = rest_level - (rest_level - work[-1]) * np.exp(-(T_S[340:] - 340) / tau_s)
    return values


def judged(
    values: np.ndarray, thb: np.ndarray | None = None, level_pct: float | None = None
) -> MuscleBout:
    return judge_muscle(
        "left thigh",
        Series.of(T_S, values),
        None if thb is None else Series.of(T_S, thb),
        BOUT,
        (BOUT,),
        resting=None,
        level_pct=level_pct,
        own_low_pct=None,
    )


def test_recovery_from_30_to_70_with_20_s_is_half_done_after_13_9_s() -> None:
    """The natural logarithm of 2 times 20 s = 13.8629 s."""
    recovery = judged(trace(np.full(240, 30.0))).recovery

    assert recovery.half_time.value == pytest.approx(13.8629, abs=0.02)
    assert recovery.rate.value == pytest.approx(20 / 13.8629, rel=0.01)
    assert recovery.overshoot.value == pytest.approx(0, abs=0.05)


def test_a_recovery_within_a_second_takes_none() -> None:
    half_time = judged(trace(np.full(240, 30.0), tau_s=0.1)).recovery.half_time

    assert half_time.value is not None
    assert half_time.value <= 1


def test_an_overshoot_is_measured_from_the_level_before() -> None:
    values = trace(np.full(240, 30.0))
    values[400:470] = 85

    assert judged(values).recovery.overshoot.value == pytest.approx(15)


def test_depth_by_hand() -> None:
    """70 %, then one minute at 40 % and three at 50 %."""
    work = np.concatenate([np.full(60, 40.0), np.full(180, 50.0)])
    muscle = judged(trace(work), level_pct=45)

    assert muscle.baseline.level.value == pytest.approx(70)
    assert muscle.depth.nadir.value == pytest.approx(40)
    assert muscle.depth.drop.value == pytest.approx(30)
    assert muscle.depth.time_below.value == pytest.approx(60, abs=3)
    noisy = judged(trace(work) + 2 * np.sin(T_S), level_pct=50).depth.time_below
    assert noisy.low is not None
    assert noisy.high is not None
    assert noisy.low < (noisy.value or 0) < noisy.high
    assert muscle.depth.area.value == pytest.approx(30 * 1 + 20 * 3, rel=0.01)
    assert muscle.depth.time_to_nadir.value == pytest.approx(14.5)
    assert muscle.depth.time_to_nadir.high == pytest.approx(45, abs=2)
    assert muscle.late.level.value == pytest.approx(50)
    assert muscle.end_level.value == pytest.approx(50)


def test_the_late_part_begins_after_a_third() -> None:
    """Four minutes of work: minute 1:20 on. Before it a wild trace changes nothing."""
    work = 60 - np.arange(240) / 20.0
    work[:79] = 20

    assert judged(trace(work)).late.slope.value == pytest.approx(-3, rel=1e-9)


def test_onset_with_delay_and_time_constant() -> None:
    since = np.clip(np.arange(240) - 9.0, 0, None)
    work = 70 - 25 * (1 - np.exp(-since / 12))
    work += np.random.default_rng(1).normal(size=240) / 3

    onset = judged(trace(work)).onset

    for measure, truth in ((onset.delay, 9), (onset.time_constant, 12), (onset.drop, 25)):
        assert measure.low is not None
        assert measure.high is not None
        assert measure.low - 0.5 <= truth <= measure.high + 0.5


@pytest.mark.parametrize(
    ("work", "words"),
    [
        (np.full(240, 69.0), "no fall of five points"),
        (70 - np.arange(240) / 6, "no end within the first two minutes"),
        (50 + 15 * np.sin(np.arange(240) / 5), "one exponential"),
    ],
    ids=["no fall", "straight fall", "waves"],
)
def test_an_onset_of_another_shape_gets_a_reason(work: np.ndarray, words: str) -> None:
    onset = judged(trace(work)).onset

    assert onset.time_constant.value is None
    assert words in onset.time_constant.reason


@pytest.mark.parametrize(
    ("thb_in_work", "direction", "words"),
    [
        (11.4, Direction.DOWN, "compression"),
        (12.0, Direction.SAME, "taken out of the blood"),
        (12.6, Direction.UP, "outflow held back"),
    ],
)
def test_blood_volume_beside_a_falling_muscle(
    thb_in_work: float, direction: Direction, words: str
) -> None:
    """Common practice, no source: what tHb up, same, down beside a falling SmO2 usually means."""
    rng = np.random.default_rng(1)
    thb = np.full(len(T_S), 12.0)
    thb[100:340] = thb_in_work
    thb += rng.normal(size=len(T_S)) / 50

    volume = judged(trace(np.full(240, 45.0)), thb=thb).blood_volume

    assert volume is not None
    assert volume.direction is direction
    assert words in volume.reading
    assert volume.change.value == pytest.approx(100 * (thb_in_work / 12 - 1), abs=0.2)


def test_blood_volume_with_a_rising_muscle_is_inflow() -> None:
    thb = np.where((T_S >= 100) & (T_S < 340), 12.6, 12.0)

    volume = judged(trace(np.full(240, 78.0)), thb=thb).blood_volume

    assert volume is not None
    assert "inflow" in volume.reading


def test_a_short_set_takes_its_noise_from_the_rest_before() -> None:
    """Forty seconds of lifting have no late part, but a drop and a recovery."""
    bout = Bout(1, 100, 140)
    values = np.full(len(T_S), 70.0)
    values[100:140] = np.linspace(70, 40, 40)
    values[140:] = 70 - 30 * np.exp(-(T_S[140:] - 140) / 15)
    values += np.random.default_rng(2).normal(size=len(T_S)) / 2
    muscle = judge_muscle(
        "thigh",
        Series.of(T_S, values),
        None,
        bout,
        (bout,),
        resting=None,
        level_pct=None,
        own_low_pct=None,
    )

    assert muscle.late.slope.value is None
    assert "two minutes" in muscle.late.slope.reason
    assert muscle.depth.drop.value == pytest.approx(70 - np.linspace(70, 40, 40)[10:].mean(), abs=1)
    assert muscle.recovery.half_time.value is not None
    assert muscle.recovery.half_time.value < 15


def test_after_other_work_the_resting_baseline_serves() -> None:
    first, second = Bout(1, 60, 100), Bout(2, 100, 340)
    values = trace(np.full(240, 45.0))

    def level(resting: Window | None) -> tuple[float | None, str]:
        baseline = judge_muscle(
            "thigh",
            Series.of(T_S, values),
            None,
            second,
            (first, second),
            resting=resting,
            level_pct=None,
            own_low_pct=None,
        ).baseline
        return baseline.level.value, baseline.source or baseline.level.reason

    assert level(Window(0, 50)) == (pytest.approx(70), "the resting baseline")
    assert level(None) == (None, "no rest before the bout and no resting baseline")


def test_the_level_just_before_comes_before_the_resting_baseline() -> None:
    values = trace(np.full(240, 45.0))
    values[:40] = 60
    muscle = judge_muscle(
        "thigh",
        Series.of(T_S, values),
        None,
        BOUT,
        (BOUT,),
        resting=Window(0, 40),
        level_pct=None,
        own_low_pct=None,
    )

    assert muscle.baseline.source == "just before the bout"
    assert muscle.baseline.level.value == pytest.approx(70)


def test_nothing_recorded_gives_reasons_everywhere() -> None:
    muscle = judge_muscle(
        "thigh",
        NOTHING,
        NOTHING,
        BOUT,
        (BOUT,),
        resting=Window(0, 60),
        level_pct=50,
        own_low_pct=None,
    )

    depth, recovery = muscle.depth, muscle.recovery
    figures = [muscle.baseline.level, muscle.late.level, muscle.late.slope, muscle.end_level]
    figures += [depth.nadir, depth.drop, depth.time_to_nadir, depth.time_below, depth.area]
    figures += [recovery.half_time, recovery.overshoot, recovery.rate]
    figures += [muscle.onset.delay, muscle.onset.time_constant, muscle.onset.drop]
    assert all(f.value is None and f.reason for f in figures)
