"""What is seen each second from invented muscles and hearts: a fall, or what speaks against it."""

import random
from collections.abc import Iterable

import pytest

from livemon.estimate.falling import Fall
from livemon.estimate.heart import HeartSteadiness
from livemon.estimate.muscle import Muscle
from livemon.warn.judge import Verdict, judge
from livemon.warn.machine import Seen
from livemon.warn.settings import WarnSettings

SETTINGS = WarnSettings()
STEADY_BPM = 150.0


def line(seconds: int, start: float, end: float) -> list[float]:
    """Values on a straight line from `start` towards `end`."""
    return [start + (end - start) * i / seconds for i in range(seconds)]


def fed(smo2: Iterable[float | None], bpm: Iterable[float]) -> tuple[Muscle, HeartSteadiness]:
    """Feed both once a second, with white noise of 0.3 points and 0.5 bpm."""
    muscle, heart, chance = Muscle(None), HeartSteadiness(), random.Random(1)
    for pct, beats in zip(smo2, bpm, strict=True):
        noisy = None if pct is None else pct + chance.gauss(0.0, 0.3)
        muscle.update(noisy, warned=False)
        heart.update(beats + chance.gauss(0.0, 0.5))
    return muscle, heart


def seen(smo2: list[float | None], bpm: list[float]) -> Verdict:
    return judge(*fed(smo2, bpm), SETTINGS, None, 0)


@pytest.mark.parametrize(
    ("eased_to_bpm", "verdict"), [(STEADY_BPM, (Seen.FALLING, "")), (130.0, (Seen.HELD, "new low"))]
)
def test_after_work_has_eased_coming_down_from_the_overshoot_is_no_fall(
    eased_to_bpm: float, verdict: tuple[Seen, str]
) -> None:
    """40 % in the bout, then up to 65 % and down again by 10 %/min, heart rate level meanwhile."""
    bout = line(200, 70, 70) + line(15, 70, 40) + line(100, 40, 40)
    rest = line(40, 40, 65) + line(100, 65, 65) + line(60, 65, 55)
    bpm = [STEADY_BPM] * len(bout) + [eased_to_bpm] * len(rest)

    found = seen([*bout, *rest], bpm)

    assert (found.seen, found.reason) == verdict


def test_a_fall_as_long_as_the_history_has_no_level_before_to_be_lower_than() -> None:
    """The sensor was silent for so long that the series began afresh, in the middle of a fall."""
    smo2 = [*line(120, 70, 70), *([None] * 12), *line(60, 66, 56)]

    found = seen(smo2, [STEADY_BPM] * len(smo2))

    assert found.seen is Seen.FALLING
    assert found.fall is not None
    assert found.fall.age_s >= 55


#: The sensor was silent for so long that the series begins afresh; its noise is known by then.
AFRESH = [*line(120, 70, 70), *([None] * 12)]


@pytest.mark.parametrize(
    ("before_s", "verdict"), [(5, (Seen.FALLING, "")), (6, (Seen.HELD, "new low"))]
)
def test_six_seconds_before_a_fall_are_a_level_to_be_lower_than(
    before_s: int, verdict: tuple[Seen, str]
) -> None:
    """They lie at 58 %, where the fall of 45 s from 64.5 % has not come yet."""
    smo2 = [*AFRESH, *line(before_s, 58, 58), *line(45, 64.5, 59)]

    found = seen(smo2, [STEADY_BPM] * len(smo2))

    assert (found.seen, found.reason) == verdict


@pytest.mark.parametrize(
    ("seconds", "verdict"), [(44, (Seen.HELD, "heart rate unknown")), (45, (Seen.FALLING, ""))]
)
def test_without_heart_rate_a_fall_has_to_go_on_for_45_seconds(
    seconds: int, verdict: tuple[Seen, str]
) -> None:
    smo2 = [*AFRESH, *line(seconds, 60, 60 - 20 * seconds / 60)]
    muscle, _ = fed(smo2, [STEADY_BPM] * len(smo2))

    found = judge(muscle, HeartSteadiness(), SETTINGS, None, 0)

    assert (found.seen, found.reason) == verdict


@pytest.mark.parametrize(
    ("since_told_s", "verdict"), [(59, (Seen.HELD, "uncertain")), (60, (Seen.FALLING, ""))]
)
def test_for_a_minute_after_a_warning_a_fall_has_to_be_more_certain(
    since_told_s: int, verdict: tuple[Seen, str]
) -> None:
    """Between 3 and 4 standard errors: enough by itself, not enough for what may be left over."""
    smo2 = line(200, 70, 70) + line(15, 70, 68.4)
    muscle, heart = fed(smo2, [STEADY_BPM] * len(smo2))
    muscle.since_told_s = since_told_s

    found = judge(muscle, heart, SETTINGS, None, 0)

    assert (found.seen, found.reason) == verdict


@pytest.mark.parametrize(("told_age_s", "seen"), [(3, Seen.FALLING), (4, Seen.LEVEL)])
def test_the_end_of_a_fall_is_looked_for_once_four_seconds_of_it_are_seen(
    told_age_s: int, seen: Seen
) -> None:
    """The shortest knee compares 4 s with the 16 s before, of which 12 may lie before the fall."""
    smo2 = line(200, 70, 60) + line(8, 60, 64)
    muscle, heart = fed(smo2, [STEADY_BPM] * len(smo2))

    assert judge(muscle, heart, SETTINGS, Fall(10.0, 1.0, 30, 62, 5.0), told_age_s).seen is seen


@pytest.mark.parametrize(
    ("before", "pct_per_min", "fell_s", "slower_s", "slower_pct_per_min"),
    [
        pytest.param(line(120, 70, 70), 4, 27, 18, 0, id="level since 18 s, looked at over 50 s"),
        pytest.param(AFRESH, 4, 38, 13, 1.6, id="at less than half its rate since 13 s"),
        pytest.param(AFRESH, 6, 22, 19, 1, id="bent 13 s ago, in a history that just holds it"),
    ],
)
def test_a_slow_fall_that_does_not_go_on_is_held(
    before: list[float | None],
    pct_per_min: float,
    fell_s: int,
    slower_s: int,
    slower_pct_per_min: float,
) -> None:
    start = 70.0 if before[-1] is not None else 60.0
    bend = start - pct_per_min * fell_s / 60
    slower = line(slower_s, bend, bend - slower_pct_per_min * slower_s / 60)
    smo2 = [*before, *line(fell_s, start, bend), *slower]

    found = seen(smo2, [STEADY_BPM] * len(smo2))

    assert (found.seen, found.reason) == (Seen.HELD, "goes on")


def test_fifty_seconds_are_a_history_for_a_knee_of_fifty() -> None:
    """The knee of 6 and 44 s; the ones of 25 and 34 and of 9 and 46 s have no room."""
    bend = 60 - 15 * 37 / 60
    smo2 = [*AFRESH, *line(37, 60, bend), *line(13, bend, bend - 6 * 13 / 60)]
    muscle, heart = fed(smo2, [STEADY_BPM] * len(smo2))

    ended = judge(muscle, heart, SETTINGS, Fall(15.0, 1.0, 30, 62, 5.0), 50)

    assert (ended.seen, ended.reason) == (Seen.LEVEL, "level")


def test_the_end_of_a_fall_is_seen_in_a_history_too_short_for_some_knees() -> None:
    """56 s: the knee of 25 and 34 s has no room, the one of 6 and 44 s sees that it is level."""
    smo2 = [*AFRESH, *line(46, 60, 60 - 8 * 46 / 60), *line(10, 60 - 8 * 46 / 60, 60 - 8 * 46 / 60)]
    muscle, heart = fed(smo2, [STEADY_BPM] * len(smo2))

    ended = judge(muscle, heart, SETTINGS, Fall(8.0, 1.0, 30, 62, 5.0), 40)

    assert (ended.seen, ended.reason) == (Seen.LEVEL, "level")


@pytest.mark.parametrize(
    ("steady_for_s", "told"),
    [
        (9, (Seen.HELD, "goes on")),
        (10, (Seen.FALLING, "")),
        (150, (Seen.FALLING, "")),
        (151, (Seen.HELD, "goes on")),
    ],
)
def test_a_fall_that_began_in_an_onset_is_looked_for_while_the_heart_has_just_become_steady(
    steady_for_s: int, told: tuple[Seen, str]
) -> None:
    """12 points with a time constant of 12 s, then 4 %/min for a minute and a half."""
    onset = [70 - 12 * (1 - 2.718 ** (-i / 12)) for i in range(30)]
    smo2 = [*line(60, 70, 70), *onset, *line(88, onset[-1], onset[-1] - 4 * 88 / 60)]
    muscle, heart = fed(smo2, [STEADY_BPM] * len(smo2))
    heart.steady_for_s = steady_for_s

    found = judge(muscle, heart, SETTINGS, None, 0)

    assert (found.seen, found.reason) == told


@pytest.mark.parametrize(
    ("level_s", "told"), [(80, (Seen.HELD, "new low")), (85, (Seen.FALLING, ""))]
)
def test_a_fall_has_to_go_below_the_lows_of_a_minute_and_a_half(
    level_s: int, told: tuple[Seen, str]
) -> None:
    """56 % until 90 s before what is taken for the fall, then 62 %, then 35 s at 10 %/min."""
    smo2 = [
        *line(70, 56, 56),
        *line(3, 56, 62),
        *line(level_s, 62, 62),
        *line(35, 62, 62 - 10 * 35 / 60),
    ]

    found = seen(smo2, [STEADY_BPM] * len(smo2))

    assert (found.seen, found.reason) == told


def test_a_short_plunge_that_has_flattened_is_held() -> None:
    smo2 = [
        *line(120, 70, 70),
        *line(20, 70, 70 - 20 / 3),
        *line(6, 70 - 20 / 3, 70 - 20 / 3 - 0.1),
    ]

    assert seen(smo2, [STEADY_BPM] * len(smo2)).seen is Seen.HELD


@pytest.mark.parametrize(("now_pct_per_min", "verdict"), [(-2.2, Seen.FALLING), (-1.6, Seen.LEVEL)])
def test_a_told_fall_goes_on_until_it_is_milder_than_half_its_rate(
    now_pct_per_min: float, verdict: Seen
) -> None:
    smo2 = [
        *line(70, 70, 70),
        *line(60, 70, 66),
        *line(110, 66, 66 + now_pct_per_min * 110 / 60),
    ]
    muscle, heart = fed(smo2, [STEADY_BPM] * len(smo2))

    assert judge(muscle, heart, SETTINGS, Fall(4.0, 0.5, 60, 120, 5.0), 170).seen is verdict


def test_a_told_fall_that_turns_into_a_rise_ends_as_one() -> None:
    smo2 = [*line(100, 70, 70), *line(60, 70, 66), *line(26, 66, 66 + 8 * 26 / 60)]
    muscle, heart = fed(smo2, [STEADY_BPM] * len(smo2))

    ended = judge(muscle, heart, SETTINGS, Fall(4.0, 1.0, 30, 62, 5.0), 86)

    assert (ended.seen, ended.reason) == (Seen.LEVEL, "rising")


def test_a_warning_on_display_ends_when_heart_rate_certainly_moves() -> None:
    told = Fall(10.0, 1.0, 30, 62, 5.0)
    smo2 = line(200, 70, 70) + line(40, 70, 63)
    muscle, heart = fed(smo2, [STEADY_BPM] * 220 + line(20, 150, 180))
    _, steady = fed(smo2, [STEADY_BPM] * 240)

    ended = judge(muscle, heart, SETTINGS, told, 40)

    assert (ended.seen, ended.fall, ended.reason) == (Seen.ENDED, None, "heart rate moving")
    assert judge(muscle, steady, SETTINGS, told, 40).seen is Seen.FALLING
