"""Without heart rate a fall is told only when no question speaks against it."""

from dataclasses import replace

import pytest

from livemon.estimate.bank import KNEES, LINES_S
from livemon.estimate.falling import Fall, best_fall
from livemon.estimate.muscle import Muscle
from livemon.estimate.rivals import lead_over_onset, lead_over_step
from livemon.warn.settings import WarnSettings
from livemon.warn.unseen import told_without_heart_rate
from tests.warn.invented_muscles import AFRESH, fed, line

SETTINGS = WarnSettings()


def muscle_of(smo2: list[float | None] | list[float]) -> Muscle:
    return fed(smo2, [None] * len(smo2))[0]


def fall_of(muscle: Muscle) -> Fall:
    assert muscle.readings is not None
    fall = best_fall(muscle.readings, muscle.seconds.length, 1.0)
    assert fall is not None
    return fall


def told(
    muscle: Muscle,
    fall: Fall | None = None,
    wanted: WarnSettings = SETTINGS,
    *,
    eased: bool = False,
) -> bool:
    return told_without_heart_rate(muscle, fall or fall_of(muscle), wanted, eased=eased)


#: 15 %/min for 72 s after two minutes of level: nothing speaks against it.
DEEP = [*line(120, 75, 75), *line(72, 75, 57)]


def test_a_deep_long_fall_is_told() -> None:
    assert told(muscle_of(DEEP))


@pytest.mark.parametrize(
    ("what", "enough", "too_little"),
    [
        ("certainty", 6.0, 5.9),
        ("age_s", 45, 44),
        ("rate_pct_per_min", 8.0, 7.9),  # over the minute that it is made to last
    ],
)
def test_it_has_to_be_certain_old_and_deep(what: str, enough: float, too_little: float) -> None:
    muscle = muscle_of(DEEP)
    fall = replace(fall_of(muscle), age_s=60, rate_pct_per_min=15.0, certainty=9.0)
    open_gates = replace(SETTINGS, over_onset_nats=-99.0, over_step_nats=-99.0)

    assert told(muscle, replace(fall, **{what: enough}), open_gates)
    assert not told(muscle, replace(fall, **{what: too_little}), open_gates)


def test_no_trouble_may_lie_within_it() -> None:
    muscle = muscle_of(DEEP)
    fall = fall_of(muscle)

    muscle.calm_s = fall.age_s
    assert told(muscle, fall)
    muscle.calm_s = fall.age_s - 1
    assert not told(muscle, fall)


def test_an_onset_of_harder_work_and_a_slip_are_like_it_but_not_enough() -> None:
    onset = [75 - 20 * (1 - 2.718 ** (-i / 25)) for i in range(70)]
    muscle = muscle_of(DEEP)

    assert not told(muscle_of([*line(120, 75, 75), *onset]))
    assert not told(muscle, wanted=replace(SETTINGS, over_onset_nats=99.0))
    assert not told(muscle, wanted=replace(SETTINGS, over_step_nats=99999.0))


@pytest.mark.parametrize(
    ("window_s", "part", "errors"), [(12, 0.3, 1.0), (20, 0.5, 0.0)], ids=["now", "still"]
)
def test_its_last_seconds_have_to_fall(window_s: int, part: float, errors: float) -> None:
    muscle = muscle_of(DEEP)
    fall, readings, at = fall_of(muscle), muscle.readings, LINES_S.index(window_s)
    assert readings is not None
    least = part * fall.rate_pct_per_min - errors * readings.line_errors[at]

    readings.lines[at] = -least
    assert told(muscle, fall)
    readings.lines[at] = -least + 1e-9
    assert not told(muscle, fall)


def test_a_knee_that_says_that_it_is_over_speaks_against_it() -> None:
    muscle = muscle_of(DEEP)
    fall, readings, at = fall_of(muscle), muscle.readings, KNEES.index((9, 24))
    assert readings is not None
    rate = fall.rate_pct_per_min

    for slope, error, bent in (
        (-0.5 * rate + 1e-6, 0.35 * rate, True),  # 0.5 of the rate are more than 1.4 x 0.35
        (-0.5 * rate - 1e-6, 0.35 * rate, False),
        (0.0, rate / 1.4 - 1e-6, True),
        (0.0, rate / 1.4 + 1e-6, False),
    ):
        readings.knees[at], readings.knee_errors[at] = slope, error
        assert told(muscle, fall) is not bent


@pytest.mark.parametrize(
    ("slope", "error", "bent"),
    [(-7.0, 0.1, False), (-6.9, 0.1, True), (0.0, 10.0, False), (0.0, 9.9, True)],
)
def test_a_knee_speaks_against_it_beyond_both_of_its_limits(
    slope: float, error: float, bent: bool
) -> None:
    """It is milder than half of 14 %/min, and milder than all of them by 1.4 standard errors."""
    muscle = muscle_of(DEEP)
    fall, readings = replace(fall_of(muscle), rate_pct_per_min=14.0), muscle.readings
    assert readings is not None
    at = KNEES.index((9, 24))
    readings.knees[at], readings.knee_errors[at] = slope, error

    assert told(muscle, fall) is not bent


@pytest.mark.parametrize(("knee", "asked"), [((36, 50), True), ((50, 50), False)])
def test_a_knee_looks_at_the_newer_half_only(knee: tuple[int, int], asked: bool) -> None:
    muscle = muscle_of(DEEP)
    fall, readings, at = fall_of(muscle), muscle.readings, KNEES.index(knee)
    assert readings is not None
    assert fall.age_s == 72
    readings.knees[at], readings.knee_errors[at] = 0.0, 0.1

    assert told(muscle, fall) is not asked


@pytest.mark.parametrize(("length", "asked"), [(49, False), (50, True)])
def test_a_knee_needs_its_history(length: int, asked: bool) -> None:
    muscle = muscle_of([*AFRESH, *line(length, 70, 70 - length / 3)])
    readings, at = muscle.readings, KNEES.index((6, 44))
    assert readings is not None
    fall = Fall(20.0, 1.0, 45, 45, 9.0)
    assert told(muscle, fall)
    readings.knees[at], readings.knee_errors[at] = 0.0, 0.1

    assert told(muscle, fall) is not asked


def test_it_may_lead_over_its_rivals_by_just_so_much() -> None:
    muscle = muscle_of(DEEP)
    fall, readings = fall_of(muscle), muscle.readings
    assert readings is not None
    onset = lead_over_onset(readings, fall)
    step = lead_over_step(
        muscle.seconds.window(), muscle.noise.semivariogram, fall.span_s, muscle.persistence
    )
    just = replace(SETTINGS, over_onset_nats=onset, over_step_nats=step)

    assert told(muscle, fall, just)
    assert not told(muscle, fall, replace(just, over_onset_nats=onset + 1e-9))
    assert not told(muscle, fall, replace(just, over_step_nats=step + 1e-9))


def test_half_a_nat_for_a_ramp_rather_than_a_step_is_enough() -> None:
    """The louder the noise, the less the same window says: made so loud that half a nat is left."""
    muscle = muscle_of(DEEP)
    fall, noise, window = fall_of(muscle), muscle.noise, muscle.seconds.window()
    quiet = lead_over_step(window, noise.semivariogram, fall.span_s, muscle.persistence)
    noise.semivariogram = noise.semivariogram * (quiet / 0.5)
    loud = lead_over_step(window, noise.semivariogram, fall.span_s, muscle.persistence)

    assert loud == pytest.approx(0.5)
    assert told(muscle, fall)


def lower_than(before: list[float], fall_s: int, lows: WarnSettings = SETTINGS) -> bool:
    """Is a fall of `fall_s` to 57 % told, of which only the level `before` it is in question?"""
    muscle = muscle_of(DEEP)
    muscle.seconds.begin_afresh()
    for pct in [*before, *line(fall_s - 5, 72, 57), *line(5, 57, 57)]:
        muscle.seconds.append(pct)
    fall = Fall(15.0, 1.0, fall_s, 120, 9.0)
    return told(muscle, fall, replace(lows, over_onset_nats=-9e9, over_step_nats=-9e9))


@pytest.mark.parametrize(("level_s", "verdict"), [(86, False), (87, True)])
def test_it_has_to_go_below_the_lows_of_a_minute_and_a_half(level_s: int, verdict: bool) -> None:
    """By means of five seconds, the very first of which is not taken."""
    assert lower_than([*line(20, 50, 50), *line(level_s, 66, 66)], 60) is verdict


@pytest.mark.parametrize(("low_pct", "verdict"), [(57.69, False), (57.71, True)])
def test_a_low_is_new_by_a_margin(low_pct: float, verdict: bool) -> None:
    assert lower_than(line(90, low_pct, low_pct), 60) is verdict


@pytest.mark.parametrize(("margin_pct", "verdict"), [(3.0, False), (2.9, True)])
def test_as_low_as_the_margin_asks_is_not_below_it(margin_pct: float, verdict: bool) -> None:
    """Down to 57 % from 60 % held."""
    wanted = replace(SETTINGS, new_low_pct=margin_pct)

    assert lower_than(line(90, 60, 60), 60, wanted) is verdict


@pytest.mark.parametrize(("low_pct", "verdict"), [(60.09, False), (60.11, True)])
def test_after_a_refilling_the_margin_is_wider(low_pct: float, verdict: bool) -> None:
    """It refilled by 12 points before the fall: a fifth of that has to be passed as well."""
    before = [*line(40, 69, 69), *line(20, low_pct, low_pct), *line(30, low_pct + 12, low_pct + 12)]

    assert lower_than(before, 60) is verdict


@pytest.mark.parametrize(("before_s", "verdict"), [(5, True), (6, False)])
def test_six_seconds_before_a_fall_are_a_level_to_be_lower_than(
    before_s: int, verdict: bool
) -> None:
    assert lower_than(line(before_s, 52, 52), 60) is verdict


def test_after_work_has_eased_it_has_to_go_below_all_that_was_held() -> None:
    bout = [*line(100, 70, 70), *line(15, 70, 40), *line(60, 40, 40), *line(20, 40, 75)]
    muscle = muscle_of([*bout, *line(130, 75, 75), *line(72, 75, 57)])

    assert told(muscle)
    assert not told(muscle, eased=True)
    assert told(muscle_of(DEEP), eased=True)


def test_the_low_of_an_eased_bout_has_to_be_passed_by_the_margin() -> None:
    muscle = muscle_of(DEEP)
    level = muscle.level_pct()
    assert level is not None
    below_pct = muscle.lowest_lately_pct - level
    just, more = (
        replace(SETTINGS, new_low_pct=pct, recent_low_s=5) for pct in (below_pct, below_pct + 1e-9)
    )

    assert told(muscle, wanted=just, eased=True)
    assert not told(muscle, wanted=more, eased=True)
    assert told(muscle, wanted=more, eased=False)
