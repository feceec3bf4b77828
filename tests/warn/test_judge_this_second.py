"""What is seen each second from invented muscles and hearts: a fall, its end, or neither."""

from collections.abc import Callable, Sequence
from dataclasses import replace

import pytest

from livemon.estimate.bank import LINES_S
from livemon.estimate.falling import Fall
from livemon.estimate.heart import HeartSteadiness
from livemon.estimate.muscle import Muscle
from livemon.warn.judge import Conviction, Verdict, judge
from livemon.warn.machine import Seen
from livemon.warn.settings import WarnSettings
from tests.warn.invented_muscles import STEADY_BPM, fed, line

LEVEL = line(200, 70, 70)
FALLING = [*LEVEL, *line(40, 70, 63)]
TOLD = Fall(10.0, 1.0, 30, 62, 5.0)
Weigh = Callable[[Sequence[float]], float]


def says(nats: float) -> Weigh:
    return lambda row: nats


def must_not_be_asked(row: Sequence[float]) -> float:
    raise AssertionError("nobody should ask")


def settings(fall: Weigh = must_not_be_asked, end: Weigh = must_not_be_asked) -> WarnSettings:
    return WarnSettings(weigh_fall=fall, weigh_end=end, certain_nats=2.0, over_nats=1.0)


def steady(smo2: Sequence[float | None]) -> tuple[Muscle, HeartSteadiness]:
    return fed(smo2, [STEADY_BPM] * len(smo2))


def seen(
    where: tuple[Muscle, HeartSteadiness],
    wanted: WarnSettings,
    told: Fall | None = None,
    convinced: Conviction | None = None,
    age_s: int = 40,
) -> Verdict:
    return judge(*where, wanted, told, age_s, convinced or Conviction())


def test_a_weight_is_smoothed_over_the_seconds() -> None:
    convinced = Conviction()

    assert [convinced.take(7.0) for _ in range(3)] == pytest.approx([4.0, 6.1, 6.73])


def test_what_speaks_against_does_not_outlast_what_comes_after_it() -> None:
    convinced = Conviction()
    convinced.take(-50.0)

    assert convinced.nats == -3.0


def test_what_was_forgotten_is_as_good_as_never_taken() -> None:
    convinced = Conviction()
    convinced.take(9.0)
    convinced.forget()

    assert convinced.nats == -3.0


@pytest.mark.parametrize(
    ("nats", "verdict"), [(4.2, Seen.FALLING), (4.1, Seen.HELD), (-1.0, Seen.HELD)]
)
def test_a_fall_is_seen_when_its_weight_is_enough(nats: float, verdict: Seen) -> None:
    """The first second has seven tenths, the floor of -3 the rest."""
    found = seen(steady(FALLING), settings(fall=says(nats)))

    assert found.seen is verdict
    assert found.fall is not None
    assert found.fall.rate_pct_per_min == pytest.approx(10.5, abs=1.5)
    assert (found.reason, found.heart_known) == ("", True)


def test_a_weight_that_only_just_reaches_its_limit_is_enough() -> None:
    falling, level = steady(FALLING), steady([*FALLING, *line(20, 63, 63)])
    wanted = settings(fall=says(4.0), end=says(4.0))
    reached, beyond = Conviction().take(4.0), Conviction().take(4.0) + 1e-9

    falls = [seen(falling, replace(wanted, certain_nats=nats)).seen for nats in (reached, beyond)]
    ends = [seen(level, replace(wanted, over_nats=nats), TOLD).seen for nats in (reached, beyond)]

    assert falls == [Seen.FALLING, Seen.HELD]
    assert ends == [Seen.LEVEL, Seen.FALLING]


def test_weight_gathers_from_second_to_second() -> None:
    convinced, where, wanted = Conviction(), steady(FALLING), settings(fall=says(2.1))

    found = [seen(where, wanted, convinced=convinced).seen for _ in range(5)]

    assert found == [Seen.HELD, Seen.HELD, Seen.HELD, Seen.FALLING, Seen.FALLING]


def test_what_is_no_fall_by_itself_is_not_weighed_and_counts_against_one() -> None:
    convinced = Conviction()
    convinced.take(8.0)

    found = seen(steady(LEVEL), replace(settings(), worth_weighing_se=9.0), convinced=convinced)

    assert (found.seen, found.reason) == (Seen.HELD, "")
    assert convinced.nats == pytest.approx(4.7 * 0.3 - 3.0 * 0.7)


def test_from_where_on_it_is_worth_weighing() -> None:
    where, wanted = steady(FALLING), settings(fall=says(50.0))
    first = seen(where, wanted).fall
    assert first is not None

    at_it = seen(where, replace(wanted, worth_weighing_se=first.certainty))
    below = seen(where, replace(wanted, worth_weighing_se=first.certainty - 1e-9))

    assert (at_it.seen, below.seen) == (Seen.HELD, Seen.FALLING)


def test_what_is_slower_than_the_slowest_fall_is_not_weighed() -> None:
    where, wanted = steady(FALLING), settings(fall=says(50.0))
    first = seen(where, wanted).fall
    assert first is not None
    rate = first.rate_pct_per_min

    as_slow = seen(where, replace(wanted, slowest_pct_per_min=rate))
    slower = seen(where, replace(wanted, slowest_pct_per_min=rate + 1e-9))

    assert (as_slow.seen, slower.seen) == (Seen.FALLING, Seen.HELD)


def test_what_is_younger_than_heart_rate_needs_is_not_weighed() -> None:
    where, wanted = steady(FALLING), settings(fall=says(50.0))
    first = seen(where, wanted).fall
    assert first is not None

    as_old = seen(where, replace(wanted, youngest_age_s=first.age_s))
    younger = seen(where, replace(wanted, youngest_age_s=first.age_s + 1))

    assert (as_old.seen, younger.seen) == (Seen.FALLING, Seen.HELD)


def test_only_what_is_steeper_than_the_margin_counts() -> None:
    where, wanted = steady(FALLING), settings(fall=says(50.0))

    assert seen(where, replace(wanted, margin_pct_per_min=12.0)).seen is Seen.HELD


@pytest.mark.parametrize(("looks", "verdict"), [(2, Seen.UNKNOWN), (3, Seen.FALLING)])
def test_the_noise_has_to_be_known(looks: int, verdict: Seen) -> None:
    muscle, heart = steady(FALLING)
    muscle.noise.looks = looks

    assert seen((muscle, heart), settings(fall=says(50.0))).seen is verdict


@pytest.mark.parametrize("told", [None, TOLD])
def test_without_data_nothing_is_known(told: Fall | None) -> None:
    found = seen((Muscle(None), HeartSteadiness()), settings(), told)

    assert found == Verdict(Seen.UNKNOWN, None, "no data")


def test_a_heart_on_its_way_ends_what_was_gathered() -> None:
    convinced = Conviction()
    convinced.take(20.0)
    where = fed(FALLING, [STEADY_BPM] * 220 + line(20, 150, 180))

    found = seen(where, settings(), convinced=convinced)

    assert found == Verdict(Seen.ENDED, None, "heart rate moving")
    assert convinced.nats == -3.0


def test_a_heart_that_is_not_heard_leaves_it_to_the_gates() -> None:
    convinced = Conviction()
    convinced.take(20.0)
    muscle, _ = steady(FALLING)
    deep, _ = steady([*LEVEL, *line(60, 70, 50)])

    shallow = seen((muscle, HeartSteadiness()), settings(), convinced=convinced)
    found = seen((deep, HeartSteadiness()), settings())

    assert (shallow.seen, shallow.reason) == (Seen.HELD, "heart rate unknown")
    assert convinced.nats == -3.0
    assert (found.seen, found.reason, found.heart_known) == (
        Seen.FALLING, "heart rate unknown", False,
    )  # fmt: skip


def test_an_end_is_seen_when_its_weight_is_enough() -> None:
    where = steady([*FALLING, *line(20, 63, 63)])

    found = [seen(where, settings(end=says(nats)), TOLD) for nats in (2.8, 2.7)]

    assert found[0] == Verdict(Seen.LEVEL, None, "level")
    assert found[1] == Verdict(Seen.FALLING, None, "")


def test_a_fall_that_goes_on_is_not_asked_whether_it_is_over() -> None:
    convinced = Conviction()
    convinced.take(20.0)

    found = [seen(steady(FALLING), settings(), TOLD, convinced).seen for _ in range(2)]

    assert found == [Seen.LEVEL, Seen.FALLING]  # 13.1, then 1.83 and -1.55


@pytest.mark.parametrize(("pct_per_min", "reason"), [(3.0, "level"), (3.1, "rising")])
def test_an_end_is_told_by_where_it_leads(pct_per_min: float, reason: str) -> None:
    muscle, heart = steady([*FALLING, *line(24, 63, 63)])
    assert muscle.readings is not None
    muscle.readings.lines[LINES_S.index(12)] = pct_per_min

    assert seen((muscle, heart), settings(end=says(50.0)), TOLD).reason == reason


def test_a_warning_on_display_ends_when_heart_rate_certainly_moves() -> None:
    where = fed(FALLING, [STEADY_BPM] * 220 + line(20, 150, 180))

    assert seen(where, settings(), TOLD) == Verdict(Seen.ENDED, None, "heart rate moving")


#: With what is shipped: (the muscle's last minutes, what is seen of it after one minute of that).
SHIPPED = [
    pytest.param(line(60, 70, 60), Seen.FALLING, id="10 %/min"),
    pytest.param(line(60, 70, 70), Seen.HELD, id="level"),
    pytest.param([*line(14, 70, 58), *line(46, 58, 58)], Seen.HELD, id="down, and level"),
    pytest.param([*line(2, 70, 62), *line(58, 62, 62)], Seen.HELD, id="slipped"),
    pytest.param(line(60, 70, 80), Seen.HELD, id="refilling"),
]


@pytest.mark.parametrize(("minute", "verdict"), SHIPPED)
def test_what_is_shipped_sees_plain_cases_as_people_do(minute: list[float], verdict: Seen) -> None:
    where, convinced = steady([*LEVEL, *minute]), Conviction()

    found = [seen(where, WarnSettings(), convinced=convinced).seen for _ in range(8)]

    assert found[-1] is verdict


@pytest.mark.parametrize(
    ("minute", "verdict"),
    [
        pytest.param(line(30, 60, 55), Seen.FALLING, id="goes on"),
        pytest.param(line(30, 60, 60), Seen.LEVEL, id="level"),
        pytest.param(line(30, 60, 70), Seen.LEVEL, id="refilling"),
    ],
)
def test_what_is_shipped_sees_plain_ends_as_people_do(minute: list[float], verdict: Seen) -> None:
    where, convinced = steady([*LEVEL, *line(60, 70, 60), *minute]), Conviction()

    found = [seen(where, WarnSettings(), TOLD, convinced, age_s=90) for _ in range(8)]

    assert found[-1].seen is verdict
